import { judgeCard, judgeEdition } from '../boards/judge.ts'
import { readName } from '../boards/scheme.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import type { Board } from '../model/board.ts'
import type { Edition } from '../model/library.ts'
import type { ObservedCard, ObservedFile } from '../model/observed-card.ts'
import type { CardFile } from '../model/plan.ts'
import type { SoundInspection } from '../model/sound.ts'
import type { CardObserver } from '../ports/card-observer.ts'
import type { PreparedFolders } from '../ports/prepared-folders.ts'
import type { RunControl } from '../ports/progress.ts'
import type { CardPorts } from './card-ports.ts'
import { creatorPage } from './check-report.ts'
import { levelOfSound } from './judging.ts'
import { readCostOfFiles } from './read-cost-of-card.ts'

export interface CheckCardPorts extends Pick<CardPorts, 'getBoard'> {
  readonly observer: CardObserver
  readonly pages: Pick<PreparedFolders, 'requirePlaceOfPage' | 'writePage'>
  readonly toolVersion: string
}

/**
 * What a board makes of a card as it lies there. Each folder of the root with sounds is a font; the
 * folder of sounds that belong to the whole card is none. Nothing is written to it, and no record is
 * asked: licences are not judged.
 *
 * @param request its `reportPath` is absolute
 * @throws AppError `board/unknown`, `check/no-sounds`; those of `CardObserver.observe` and
 *   `PreparedFolders.writePage`
 */
export async function checkCard(
  { from, boardId, reportPath }: RequestOf<'check:card'>,
  ports: CheckCardPorts,
  control: RunControl,
): Promise<ResponseOf<'check:card'>> {
  const { board, scheme } = await ports.getBoard(boardId)
  if (reportPath !== undefined) await ports.pages.requirePlaceOfPage(reportPath)
  const card = await ports.observer.observe(from, control)
  const editions = fontsOnCard(card, board, scheme)
  if (editions.length === 0) {
    throw new AppError({
      code: 'check/no-sounds',
      what: 'No folder in it holds a sound.',
      where: from,
      mend: 'Name the root of a card, or its image.',
    })
  }
  const shared = { levelOf: levelOfSound, speakerLowLimitHz: null, inPlace: true }
  const fonts = editions.map((edition) => {
    const folder = edition.font.name
    const judged = judgeEdition(edition, board, { ...shared, scheme, licences: null, folder })
    return { folder, soundCount: edition.soundCount, ...judged }
  })
  const config = card.files.find((file) => file.path.toUpperCase() === board.config?.file.toUpperCase())
  const byName = [...editions].sort((a, b) =>
    a.font.name.toUpperCase() < b.font.name.toUpperCase() ? -1 : 1,
  )
  const cardFindings = judgeCard({
    board,
    fonts: byName.map((edition, index) => ({
      edition,
      slot: board.fonts.firstSlot + index,
      folder: edition.font.name,
    })),
    config:
      config === undefined || config.text === null ? null : { fileName: config.path, text: config.text },
    context: shared,
    readCost: readCostOfFiles(card.files.map(cardFileOf), board),
    directoryOrder: editions.map((edition) => edition.font.name),
  })
  if (reportPath !== undefined) {
    const reported = fonts.map(({ folder, ...font }) => ({ ...font, name: folder, version: '' }))
    await ports.pages.writePage(reportPath, creatorPage(board, reported, ports.toolVersion))
  }
  return { board: board.id, boardTitle: board.title, fonts, cardFindings: [...cardFindings] }
}

function cardFileOf({ path, sizeBytes, kind }: ObservedFile): CardFile {
  const origin: CardFile['origin'] =
    kind === 'sound' || kind === 'companion' ? { kind, editionId: '', path } : { kind: 'config' }
  return { path, sizeBytes, sha256: '', origin }
}

/** The card's font folders as editions, in the order of its directory. */
function fontsOnCard(card: ObservedCard, board: Board, scheme: Scheme): readonly Edition[] {
  const folders = new Map<string, ObservedFile[]>()
  const wide = board.fonts.cardWide?.folder.toUpperCase()
  for (const file of card.files) {
    const slash = file.path.indexOf('/')
    const folder = file.path.slice(0, Math.max(0, slash))
    if (slash < 0 || folder.toUpperCase() === wide) continue
    folders.set(folder, [...(folders.get(folder) ?? []), { ...file, path: file.path.slice(slash + 1) }])
  }
  return [...folders]
    .filter(([, files]) => files.some((file) => file.kind === 'sound'))
    .map(([folder, files]) => editionOf(folder, files, scheme))
}

function editionOf(folder: string, files: readonly ObservedFile[], scheme: Scheme): Edition {
  const sounds = files
    .filter((file) => file.kind === 'sound')
    .map((file) => {
      const place = readName(scheme, file.path)
      return {
        id: file.path,
        editionId: folder,
        path: file.path,
        place,
        roleSource: place === null ? null : ('scheme' as const),
        inspection: file.inspection ?? unread(file),
      }
    })
  const companions = files
    .filter((file) => file.kind === 'companion' || file.kind === 'other')
    .map(({ path, sizeBytes }) => ({ path, sizeBytes, sha256: '', kind: 'document' as const }))
  return {
    id: folder,
    font: { id: folder, name: folder, creatorId: null, creatorName: null, proposedCreatorName: null },
    version: '',
    state: 'present',
    places: [],
    schemeId: scheme.id,
    soundCount: sounds.length,
    companionCount: companions.length,
    sizeBytes: files.reduce((sum, file) => sum + file.sizeBytes, 0),
    firstSeenAt: '',
    sounds,
    companions,
    litter: files.filter((file) => file.kind === 'litter').map((file) => file.path),
  }
}

function unread({ path, sizeBytes }: ObservedFile): SoundInspection {
  const problem = { code: 'observe/unread', message: 'It was not read.' }
  return { sha256: path, sizeBytes, sampleHash: null, facts: null, measures: null, problem }
}
