import { judgeCard, judgeEdition, type Judged } from '../../app/boards/judge.ts'
import type { CardLook } from '../../app/boards/rules/card-look.ts'
import type { JudgeContext } from '../../app/boards/rules/font-look.ts'
import { readName } from '../../app/boards/scheme.ts'
import type { AudioFacts } from '../../app/model/audio-facts.ts'
import type { Board } from '../../app/model/board.ts'
import type { Finding } from '../../app/model/finding.ts'
import type { Edition } from '../../app/model/library.ts'
import type { Levels, Measures } from '../../app/model/measures.ts'
import type { SoundPlace } from '../../app/model/role.ts'
import type { Companion, Sound, SoundInspection } from '../../app/model/sound.ts'
import { levelOfSound } from '../../app/usecases/judging.ts'
import { shippedBoard } from './shipped-boards.ts'
import { shippedScheme } from './shipped-schemes.ts'

/** What a test changes on one sound that `bench-44` takes as it is. */
export interface SoundChange {
  readonly facts?: Partial<AudioFacts> | null
  readonly measures?: Partial<Omit<Measures, 'levels' | 'seam'>> | null
  readonly levels?: Partial<Levels>
  readonly seam?: Partial<Measures['seam']>
  readonly place?: SoundPlace | null
  readonly sizeBytes?: number
  readonly sampleHash?: string
  readonly problem?: SoundInspection['problem']
}

export interface FontChange {
  readonly sounds?: Readonly<Record<string, SoundChange | null>>
  readonly companions?: readonly Companion[]
  readonly litter?: readonly string[]
  readonly name?: string
  readonly creatorName?: string | null
}

const READY: Readonly<Record<string, SoundChange>> = {
  'hum.wav': {},
  'ignite-01.wav': {},
  'retract-01.wav': {},
  'swing-01.wav': {},
  'swing-02.wav': {},
  'clash-01.wav': {},
  'clash-02.wav': {},
}

/** A font that `bench-44` plays, with what a test changes; `null` takes a sound away. */
export function fontLike(
  change: FontChange = {},
  base: Readonly<Record<string, SoundChange>> = READY,
): Edition {
  const sounds = Object.entries({ ...base, ...change.sounds }).flatMap(([path, each]) =>
    each === null ? [] : [soundLike(path, each)],
  )
  const name = change.name ?? 'Harbour Bell'
  return {
    id: `edition-${name}`,
    font: {
      id: `font-${name}`,
      name,
      creatorId: null,
      creatorName: change.creatorName ?? null,
      proposedCreatorName: null,
    },
    version: '1',
    state: 'present',
    places: [],
    schemeId: 'plain-words',
    soundCount: sounds.length,
    companionCount: change.companions?.length ?? 0,
    sizeBytes: 0,
    firstSeenAt: '2026-11-25T09:00:00Z',
    sounds,
    companions: change.companions ?? [],
    litter: change.litter ?? [],
  }
}

function soundLike(path: string, change: SoundChange): Sound {
  const facts: AudioFacts | null =
    change.facts === null
      ? null
      : {
          container: 'riff',
          coding: 'pcm',
          formatTag: 1,
          channels: 1,
          sampleRateHz: 44_100,
          bitDepth: 16,
          validBits: 16,
          frames: 44_100,
          seconds: 1,
          chunks: [
            { id: 'fmt ', offset: 12, sizeBytes: 16 },
            { id: 'data', offset: 36, sizeBytes: 88_200 },
          ],
          loops: [],
          tags: {},
          defects: [],
          ...change.facts,
        }
  const measures: Measures | null =
    change.measures === null || facts === null
      ? null
      : {
          levels: {
            integratedLufs: -22,
            momentaryMaxLufs: -18,
            shortTermMaxLufs: null,
            rangeLu: null,
            truePeakDbtp: -4,
            samplePeakDbfs: -4.5,
            rmsDbfs: -24,
            ...change.levels,
          },
          dcOffset: 0,
          clippedRuns: 0,
          onsetMs: 1,
          leadingSilenceMs: 0,
          trailingSilenceMs: 20,
          lowShare: 0.2,
          seam: { jumpRatio: 0.4, dipDb: -1, ...change.seam },
          reasons: {},
          ...change.measures,
        }
  const place = change.place === undefined ? readName(shippedScheme('plain-words'), path) : change.place
  return {
    id: path,
    editionId: 'edition',
    path,
    place,
    roleSource: place === null ? null : 'scheme',
    inspection: {
      sha256: path,
      sizeBytes: change.sizeBytes ?? 88_244,
      sampleHash: facts === null ? null : (change.sampleHash ?? path),
      facts,
      measures,
      problem: change.problem ?? null,
    },
  }
}

/** What judging needs, as the use cases give it; licences are not judged unless a test asks. */
export function contextLike(board: Board, change: Partial<JudgeContext> = {}): JudgeContext {
  return {
    scheme: shippedScheme(board.names.scheme),
    levelOf: levelOfSound,
    speakerLowLimitHz: null,
    licences: null,
    inPlace: false,
    ...change,
  }
}

export function judged(
  edition: Edition,
  board: Board = shippedBoard('bench-44'),
  context: Partial<JudgeContext> = {},
): Judged {
  return judgeEdition(edition, board, contextLike(board, context))
}

export function judgedCard(look: Partial<CardLook> & Pick<CardLook, 'fonts'>): readonly Finding[] {
  const board = look.board ?? shippedBoard('bench-44')
  const context = { levelOf: levelOfSound, speakerLowLimitHz: null, inPlace: false }
  return judgeCard({ config: null, ...look, board, context: look.context ?? context })
}

/** The findings of one rule as `path: message`. */
export function foundBy(rule: string, findings: readonly Finding[]): readonly string[] {
  return findings
    .filter((each) => each.rule === rule)
    .map((each) => `${each.path ?? '(font)'}: ${each.message}`)
}
