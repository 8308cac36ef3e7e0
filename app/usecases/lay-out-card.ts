import { sizeOfCard, type CardSize } from '../cards/card-size.ts'
import { creditsText } from '../cards/credits.ts'
import { documentSerialOf } from '../cards/document-serial.ts'
import { BLANK_FINGERPRINT, fingerprintOf } from '../cards/fingerprint.ts'
import { imageStampOf } from '../cards/image-stamp.ts'
import { planCard } from '../cards/plan-card.ts'
import { utf8Bytes } from '../cards/utf8-bytes.ts'
import { waysToFit, type MusicOfCard, type SoundsOfCard } from '../cards/ways-to-fit.ts'
import type { Content } from '../model/content.ts'
import type { LendingFont, LicenceOnCard, LicenceRecord } from '../model/licence-record.ts'
import type { Edition } from '../model/library.ts'
import type { LicenceDocuments } from '../ports/licence-documents.ts'
import type { CardFile, ImageStamp, Plan } from '../model/plan.ts'
import type { Licence } from '../model/records.ts'
import type { SoundSource } from '../model/single-sound.ts'
import type { WayToFit } from '../model/way-to-fit.ts'
import { cardContentsOf, type CardContents, type CardFont } from './card-files.ts'
import type { CardOrder } from './card-order.ts'
import type { CardPorts } from './card-ports.ts'
import { foreseenSizes, originOf } from './prepare/foreseen-sizes.ts'

export type LayOutPorts = Pick<
  CardPorts,
  'database' | 'openDocuments' | 'newHasher' | 'clock' | 'toolVersion'
>

/** A card as it would be made, counted but not yet laid out. */
export interface CountedCard {
  readonly contents: CardContents
  readonly licences: readonly Licence[]
  readonly size: CardSize
  /** What would make it fit; empty where it does. */
  readonly waysToFit: readonly WayToFit[]
}

/** A card laid out, with everything that goes on it at hand or in the store. */
export interface LaidOutCard extends CountedCard {
  readonly plan: Plan
  readonly fingerprint: string
  readonly stamp: ImageStamp
  readonly toolVersion: string
  readonly record: LicenceRecord
  /** Bytes that no edition has, by their hash: config, credits, licence record. */
  readonly ownBytes: ReadonlyMap<string, Uint8Array>
  /** The record of an equal content, where one was made before. */
  readonly known: Content | undefined
}

/**
 * Counts a card: the same files, documents and geometry as `layOutCard`.
 * @throws AppError of `sizeOfCard`
 */
export async function countCard(
  order: CardOrder,
  imageBytes: number | null,
  ports: LayOutPorts,
): Promise<CountedCard> {
  const draft = await draftOf(order, ports)
  const { files } = withDocuments(draft, BLANK_FINGERPRINT, made(ports))
  const input = { files, board: order.board.card, imageBytes }
  const size = sizeOfCard(input)
  const fonts = draft.contents.fonts.map((font) => ({ name: font.edition.font.name, files: font.files }))
  const ways = size.fits ? [] : waysToFit(input, fonts, await soundsOfCard(draft, ports))
  return { contents: draft.contents, licences: draft.licences, size, waysToFit: ways }
}

/**
 * Lays out a card. The documents carry the fingerprint and the date, and are as long whatever these
 * are: the card is laid out with blanks, named, and the documents written again. An equal content that
 * was made before lends its date and the version of the program.
 *
 * @throws AppError of `planCard`
 */
export async function layOutCard(
  order: CardOrder,
  imageBytes: number | null,
  ports: LayOutPorts,
): Promise<LaidOutCard> {
  const draft = await draftOf(order, ports)
  const now = made(ports)
  const fingerprint = fingerprintWith(draft, order, imageBytes, now, ports)
  const known = await ports.database.records.findContent(fingerprint)
  const first = known === undefined ? now : { date: known.createdAt, toolVersion: known.toolVersion }
  // A version of another length could move the end of the image; then it is another content.
  const isSame = fingerprintWith(draft, order, imageBytes, first, ports) === fingerprint
  const making = isSame ? first : now
  const { files, record, ownBytes } = withDocuments(draft, fingerprint, making)
  const input = { files, board: order.board.card, imageBytes }
  return {
    contents: draft.contents,
    licences: draft.licences,
    size: sizeOfCard(input),
    waysToFit: [],
    plan: planCard(input),
    fingerprint,
    stamp: imageStampOf(fingerprint, making.date, ports.newHasher),
    toolVersion: making.toolVersion,
    record,
    ownBytes,
    known: isSame ? known : undefined,
  }
}

/** What preparing would make of the sounds, and which of them is music: ways to make room. */
async function soundsOfCard({ order, contents }: Draft, { database }: LayOutPorts): Promise<SoundsOfCard> {
  const foreseen = await foreseenSizes(order, database)
  const preparedBytes = new Map<string, number>()
  for (const { path, origin } of contents.files) {
    if (origin.kind !== 'sound') continue
    const sizeBytes = foreseen.get(originOf(origin.editionId, origin.path))
    if (sizeBytes !== undefined) preparedBytes.set(path, sizeBytes)
  }
  return { preparedBytes, music: contents.fonts.flatMap(musicOf) }
}

function musicOf({ edition, files }: CardFont): readonly MusicOfCard[] {
  return edition.sounds.flatMap(({ path, place, source, inspection }) => {
    const facts = inspection.facts
    if (place?.role !== 'music' || facts?.seconds == null || facts.seconds <= 0) return []
    const from = source ?? { editionId: edition.id, path }
    const file = files.find(
      ({ origin }) =>
        origin.kind === 'sound' && origin.editionId === from.editionId && origin.path === from.path,
    )
    if (file === undefined) return []
    const { seconds } = facts
    return [{ path: file.path, seconds, bytesASecond: file.sizeBytes / seconds }]
  })
}

interface Making {
  readonly date: string
  readonly toolVersion: string
}

function made(ports: LayOutPorts): Making {
  return { date: ports.clock.now(), toolVersion: ports.toolVersion }
}

interface Draft {
  readonly order: CardOrder
  readonly contents: CardContents
  readonly licences: readonly Licence[]
  readonly licenceDocuments: LicenceDocuments
  readonly ports: LayOutPorts
}

async function draftOf(order: CardOrder, ports: LayOutPorts): Promise<Draft> {
  const fontIds = order.editions.flatMap(({ font, sounds }) => [
    font.id,
    ...sounds.flatMap(({ source }) => source?.fontId ?? []),
  ])
  const licences = await ports.database.records.listLicencesOfFonts([...new Set(fontIds)])
  const licenceDocuments = await ports.openDocuments()
  return { order, contents: cardContentsOf(order, ports.newHasher), licences, licenceDocuments, ports }
}

function fingerprintWith(
  draft: Draft,
  order: CardOrder,
  imageBytes: number | null,
  making: Making,
  ports: LayOutPorts,
): string {
  const { files } = withDocuments(draft, BLANK_FINGERPRINT, making)
  const plan = planCard({ files, board: order.board.card, imageBytes })
  return fingerprintOf(order.board.hash, plan.geometry, plan.files, ports.newHasher)
}

/** The card's files with both documents last, where the board tolerates them. */
function withDocuments(
  draft: Draft,
  fingerprint: string,
  making: Making,
): {
  readonly files: readonly CardFile[]
  readonly record: LicenceRecord
  readonly ownBytes: ReadonlyMap<string, Uint8Array>
} {
  const { board } = draft.order
  const { contents, ports } = draft
  const record = licenceRecordOf(draft, fingerprint, making)
  if (!board.card.extraFilesInRoot) return { files: contents.files, record, ownBytes: contents.ownBytes }
  const documents = [
    documentFile(
      'credits',
      board.card.creditsName,
      utf8Bytes(creditsText(record, board.card.licencesName)),
      ports,
    ),
    documentFile('licences', board.card.licencesName, draft.licenceDocuments.serialise(record), ports),
  ]
  return {
    files: [...contents.files, ...documents.map(({ file }) => file)],
    record,
    ownBytes: new Map([
      ...contents.ownBytes,
      ...documents.map(({ file, bytes }) => [file.sha256, bytes] as const),
    ]),
  }
}

function documentFile(
  kind: 'credits' | 'licences',
  path: string,
  bytes: Uint8Array,
  ports: LayOutPorts,
): { file: CardFile; bytes: Uint8Array } {
  const hasher = ports.newHasher()
  hasher.update(bytes)
  return { file: { path, sizeBytes: bytes.length, sha256: hasher.digestHex(), origin: { kind } }, bytes }
}

function licenceRecordOf(draft: Draft, fingerprint: string, making: Making): LicenceRecord {
  const { contents, licences, order, ports } = draft
  const lenders = lendingFonts(draft)
  return {
    fingerprint,
    date: making.date,
    toolVersion: making.toolVersion,
    boardTitle: order.board.title,
    serialUuid: documentSerialOf(fingerprint, ports.newHasher),
    fonts: contents.fonts.map(({ slot, folder, edition, files }) => ({
      slot,
      folder,
      name: edition.font.name,
      version: edition.version,
      creatorName: edition.font.creatorName,
      licences: licencesIn(licences, edition.font.id),
      files: files.filter((file) => lenderOf(file, edition) === null).map(namedBytes),
    })),
    ...(lenders.length === 0 ? {} : { lenders }),
  }
}

function licencesIn(licences: readonly Licence[], fontId: string): readonly LicenceOnCard[] {
  return licences
    .filter((licence) => licence.fontId === fontId)
    .map(({ kind, terms, conversionAllowed }) => ({
      kind,
      terms,
      ...(conversionAllowed === 'unknown' ? {} : { conversionAllowed }),
    }))
}

function namedBytes({ path, sizeBytes, sha256 }: CardFile) {
  return { path, sizeBytes, sha256 }
}

/** The font that a file of an edition's folder is lent by; null for the edition's own. */
function lenderOf({ origin }: CardFile, { font, sounds }: Edition): SoundSource | null {
  if (!('editionId' in origin)) return null
  const source = sounds.find(
    (sound) => sound.source?.editionId === origin.editionId && sound.source.path === origin.path,
  )?.source
  return source === undefined || source.fontId === font.id ? null : source
}

/** Fonts of which single sounds play in others, sorted by name, each version by itself. */
function lendingFonts({ contents, licences }: Draft): readonly LendingFont[] {
  const found = new Map<string, { source: SoundSource; files: CardFile[] }>()
  for (const { edition, files } of contents.fonts) {
    for (const file of files) {
      const source = lenderOf(file, edition)
      if (source === null) continue
      const known = found.get(source.editionId)
      if (known === undefined) found.set(source.editionId, { source, files: [file] })
      else known.files.push(file)
    }
  }
  return [...found.values()]
    .map(({ source, files }) => ({
      name: source.fontName,
      version: source.version,
      creatorName: source.creatorName,
      licences: licencesIn(licences, source.fontId),
      files: files.map(namedBytes),
    }))
    .sort((a, b) => byText(a.name, b.name) || byText(a.version, b.version))
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
