import { levelOf } from '../audio/level-of.ts'
import { judgeCard, judgeEdition, type Judged } from '../boards/judge.ts'
import { folderNameOf } from '../boards/folder-name.ts'
import type { JudgeContext } from '../boards/rules/font-look.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { Board } from '../model/board.ts'
import type { Finding, Verdict } from '../model/finding.ts'
import type { Edition } from '../model/library.ts'
import type { Build, Licence } from '../model/records.ts'
import type { Sound } from '../model/sound.ts'
import type { RunControl } from '../ports/progress.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import { JudgedCache } from './judged-cache.ts'
import { speakerLimitOf } from './speaker-limit.ts'
import type { SpeakerLevelOf, SpeakerLevels } from './speaker-levels.ts'
import { licenceStandings } from './licence-standings.ts'
import { readCostOfFonts } from './read-cost-of-card.ts'
import { sourceIdsOf } from './single-sounds.ts'

export interface JudgingPorts {
  readonly database: Pick<WorkshopDatabase, 'library' | 'records'>
  /** The scheme that a board plays by. @throws AppError `scheme/unknown` */
  getScheme(schemeId: string): Promise<Scheme>
  readonly speakerLevels: SpeakerLevels
}

/**
 * Judges editions for boards; remembers what it judged, and judges again only what changed. Where the
 * speaker's low limit is known, loops are heard through it first; that is long where it was never done.
 */
export interface Judging {
  /** For no particular build. */
  judge(edition: Edition, board: Board): Promise<Judged>
  /** In the order given; licences are read once for all. */
  judgeAll(
    editions: readonly Edition[],
    board: Board,
    build: Build | null,
    control?: RunControl,
  ): Promise<readonly Judged[]>
  /** What concerns the fonts of one card together, in the order they are to play. */
  judgeCard(
    editions: readonly Edition[],
    board: Board,
    build: Build | null,
    control?: RunControl,
  ): Promise<readonly Finding[]>
  /** Opinions of one board about many editions, asked one by one, by what is known already. */
  verdictGiver(board: Board): Promise<{ boardId: string; verdictOf(edition: Edition): Promise<Verdict> }>
}

/** How sounds are heard. */
interface Heard {
  readonly speakerLowLimitHz: number | null
  readonly throughSpeakerLevelOf: SpeakerLevelOf
}

/** What the records say that findings depend on, read once for many fonts. */
interface Records {
  licencesOf(fontId: string): readonly Licence[]
  otherBuildsOf(fontId: string): number | null
}

/**
 * @param ports where licences, builds and schemes come from
 */
export function createJudging(ports: JudgingPorts): Judging {
  const cache = new JudgedCache()

  function judgeOne(
    edition: Edition,
    board: Board,
    scheme: Scheme,
    build: Build | null,
    records: Records,
    heard: Heard,
  ): Judged {
    const standingsOf = (fontId: string) =>
      licenceStandings(records.licencesOf(fontId), {
        isForClient: build !== null && build.clientLabel !== '',
        otherBuilds: records.otherBuildsOf(fontId),
      })
    const lenders = lendersOf([edition]).map((fontId) => ({ fontId, licences: standingsOf(fontId) }))
    const context: JudgeContext = {
      scheme,
      levelOf: levelOfSound,
      ...heard,
      licences: standingsOf(edition.font.id),
      ...(lenders.length === 0 ? {} : { lenders }),
      inPlace: false,
      changes: build?.ruleChanges ?? [],
    }
    return cache.judged(edition, board, scheme, context, () => judgeEdition(edition, board, context))
  }

  async function judgeAll(
    editions: readonly Edition[],
    board: Board,
    build: Build | null,
    control?: RunControl,
  ): Promise<Judged[]> {
    const [scheme, records, heard] = await Promise.all([
      ports.getScheme(board.names.scheme),
      readRecords(ports, [...editions.map((edition) => edition.font.id), ...lendersOf(editions)], build),
      hear(editions, build, ports, control),
    ])
    return editions.map((edition) => judgeOne(edition, board, scheme, build, records, heard))
  }

  return {
    judge: async (edition, board) => {
      const [judged] = await judgeAll([edition], board, null)
      if (judged === undefined) throw new RangeError('one edition gives one judgement')
      return judged
    },
    judgeAll,
    judgeCard: async (editions, board, build, control) => {
      const [scheme, heard] = await Promise.all([
        ports.getScheme(board.names.scheme),
        hear(editions, build, ports, control),
      ])
      return judgeCard({
        board,
        readCost: readCostOfFonts(board, scheme, editions),
        fonts: editions.map((edition, index) => {
          const slot = board.fonts.firstSlot + index
          return { edition, slot, folder: folderNameOf(board, slot, edition.font.name) }
        }),
        config: build?.config ?? null,
        context: {
          levelOf: levelOfSound,
          ...heard,
          inPlace: false,
          changes: build?.ruleChanges ?? [],
        },
      })
    },
    verdictGiver: async (board) => {
      const [scheme, licences, speakerLowLimitHz] = await Promise.all([
        ports.getScheme(board.names.scheme),
        ports.database.records.listLicences(),
        speakerLimitOf(null, ports.database.records),
      ])
      const heard = {
        speakerLowLimitHz,
        throughSpeakerLevelOf: await ports.speakerLevels.known(speakerLowLimitHz),
      }
      const records = { licencesOf: byFont(licences), otherBuildsOf: () => null }
      return {
        boardId: board.id,
        verdictOf: (edition) =>
          Promise.resolve(judgeOne(edition, board, scheme, null, records, heard).verdict),
      }
    },
  }
}

const QUIET: RunControl = {
  onProgress: () => {},
  cancel: { aborted: false, addEventListener: () => {}, removeEventListener: () => {} },
}

async function hear(
  editions: readonly Edition[],
  build: Build | null,
  { database, speakerLevels }: JudgingPorts,
  control: RunControl = QUIET,
): Promise<Heard> {
  const speakerLowLimitHz = await speakerLimitOf(build, database.records)
  return {
    speakerLowLimitHz,
    throughSpeakerLevelOf: await speakerLevels.hear(editions, speakerLowLimitHz, control),
  }
}

/** Level of a sound by its role; null where its role or its levels are not known. */
export function levelOfSound({ place, inspection }: Sound): number | null {
  return place === null || inspection.measures === null ? null : levelOf(place, inspection.measures.levels)
}

/** Fonts that lend single sounds to others. */
function lendersOf(editions: readonly Edition[]): readonly string[] {
  return [
    ...new Set(
      editions.flatMap(({ font, sounds }) =>
        sounds.flatMap(({ source }) =>
          source === undefined || source.fontId === font.id ? [] : [source.fontId],
        ),
      ),
    ),
  ]
}

async function readRecords(
  { database }: JudgingPorts,
  fontIds: readonly string[],
  build: Build | null,
): Promise<Records> {
  const licencesOf = byFont(await database.records.listLicencesOfFonts([...new Set(fontIds)]))
  if (build === null) return { licencesOf, otherBuildsOf: () => null }
  const [builds, editions] = await Promise.all([
    database.records.listBuilds(),
    database.library.listEditions(),
  ])
  const fontOf = new Map(editions.map((edition) => [edition.id, edition.font.id]))
  const uses = new Map<string, number>()
  for (const other of builds) {
    if (other.code === build.code) continue
    const used = [...other.fontEditionIds, ...sourceIdsOf(other.singleSounds, other.fontEditionIds)]
    const fonts = new Set(used.map((editionId) => fontOf.get(editionId)))
    for (const fontId of fonts) if (fontId !== undefined) uses.set(fontId, (uses.get(fontId) ?? 0) + 1)
  }
  return { licencesOf, otherBuildsOf: (fontId) => uses.get(fontId) ?? 0 }
}

function byFont(licences: readonly Licence[]): (fontId: string) => readonly Licence[] {
  const found = new Map<string, Licence[]>()
  for (const licence of licences) {
    const ofFont = found.get(licence.fontId)
    if (ofFont) ofFont.push(licence)
    else found.set(licence.fontId, [licence])
  }
  return (fontId) => found.get(fontId) ?? []
}
