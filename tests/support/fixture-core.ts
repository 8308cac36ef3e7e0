import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type { Core } from '../../app/contract/core.ts'
import { AppError, Cancelled } from '../../app/errors/app-error.ts'
import type { Finding, Verdict } from '../../app/model/finding.ts'
import { coreDouble, STATUS } from './core-double.ts'

type FontRow = ResponseOf<'fonts:list'>['fonts'][number]

const NOTHING_FOUND: Verdict = {
  word: 'ready',
  errorCount: 0,
  warningCount: 0,
  noteCount: 0,
  unknownLimitCount: 0,
}

const FINDING: Finding = {
  rule: 'sample-rate',
  severity: 'error',
  path: 'hum.wav',
  message: 'The sample rate is 48000 Hz; the board takes 44100 Hz.',
  why: 'The board stays silent.',
  mend: 'Convert it to 44100 Hz.',
  fixable: true,
  measured: 48_000,
  limit: 44_100,
}

/** A library of as many fonts as wanted; every third has an error. */
export function fontRows(count: number): readonly FontRow[] {
  return Array.from({ length: count }, (_, index) => {
    const isReady = index % 3 !== 2
    return {
      id: `edition-${index}`,
      font: {
        id: `font-${index}`,
        name: `Font ${String(index).padStart(5, '0')}`,
        creatorId: null,
        creatorName: null,
        proposedCreatorName: 'Someone',
      },
      version: '1',
      state: 'present',
      places: [{ rootId: 'root', path: `/fonts/${index}`, innerPath: null, state: 'present' }],
      schemeId: 'plain-words',
      soundCount: 20,
      companionCount: 0,
      sizeBytes: 1_000_000 + index,
      firstSeenAt: '2026-01-01T00:00:00.000Z',
      verdict: isReady ? NOTHING_FOUND : { ...NOTHING_FOUND, word: 'fixable', errorCount: 1 },
      preparedVerdict: null,
      licenceCount: index % 2,
    }
  })
}

const BOARD = {
  id: 'bench-44',
  title: 'Bench 44',
  notes: 'Example board.',
  hash: '0'.repeat(64),
  source: 'shipped',
  known: {},
  inWords: [{ limit: 'audio.sampleRatesHz', words: 'Sample rate: 44100 Hz.', known: 'stated' }],
} as const

/** What a test can see and set off from outside the window. */
export interface FixtureCore {
  readonly core: Core
  /** Requests to make, as they came. */
  readonly made: RequestOf<'make'>[]
}

/**
 * A core for what a small real workshop cannot show: a library of thousands, an act that goes on
 * until it is cancelled, and answers that fail.
 */
export function fixtureCore(fontCount: number): FixtureCore {
  const rows = fontRows(fontCount)
  const made: RequestOf<'make'>[] = []
  const chosen = ({ editionIds = [] }: RequestOf<'check'>) =>
    editionIds.flatMap((id) => rows.find((row) => row.id === id) ?? [])
  const core = coreDouble({
    'workshop:status': () => Promise.resolve({ ...STATUS, fontCount }),
    'boards:list': () => Promise.resolve({ boards: [BOARD], problems: [] }),
    'roots:list': () => Promise.resolve({ roots: [], problems: [] }),
    'builds:list': () => Promise.resolve({ builds: [] }),
    'fonts:list': ({ boardId }) => Promise.resolve({ board: boardId ?? null, fonts: rows }),
    'contents:list': () =>
      Promise.reject(
        new AppError({
          code: 'database/busy',
          what: 'The workshop is in use elsewhere.',
          where: '/bench/workshop',
          mend: 'Wait for the other window to finish, then try again.',
        }),
      ),
    check: (request) =>
      Promise.resolve({
        board: 'bench-44',
        boardTitle: 'Bench 44',
        cardFindings: [],
        fonts: chosen(request).map((row) => ({
          editionId: row.id,
          font: row.font.name,
          version: row.version,
          verdict: row.verdict ?? NOTHING_FOUND,
          findings: row.verdict?.word === 'ready' ? [] : [FINDING],
        })),
      }),
    size(request) {
      const fonts = chosen(request).map((row, index) => ({
        editionId: row.id,
        slot: index + 1,
        font: row.font.name,
        folder: row.font.name,
        files: row.soundCount,
        contentBytes: row.sizeBytes,
        slackBytes: 4096,
        directoryBytes: 4096,
        usedBytes: row.sizeBytes + 8192,
      }))
      const usedBytes = fonts.reduce((sum, font) => sum + font.usedBytes, 4096)
      const roomBytes = request.cardBytes ?? usedBytes
      return Promise.resolve({
        board: 'bench-44',
        fileSystem: 'fat32',
        clusterBytes: 4096,
        cardBytes: request.cardBytes ?? null,
        imageBytes: roomBytes,
        usedBytes,
        freeBytes: Math.max(0, roomBytes - usedBytes),
        contentBytes: usedBytes,
        slackBytes: 0,
        fits: usedBytes <= roomBytes,
        missingBytes: Math.max(0, usedBytes - roomBytes),
        waysToFit: [],
        readCost: null,
        fonts,
      })
    },
    make(request, { onProgress, cancel }) {
      made.push(request)
      onProgress({ phase: 'writing the image', done: 3, total: 10, unit: 'files', current: null })
      return new Promise((_, reject) => cancel.addEventListener('abort', () => reject(new Cancelled())))
    },
  })
  return { core, made }
}
