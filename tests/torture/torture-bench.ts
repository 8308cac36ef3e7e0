import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
  readdirSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { Arming } from './interpose.ts'
import { runCommand, type CommandOptions, type CommandRun } from './run-command.ts'
import { sha256OfFile, treeHash } from './tree-hash.ts'
import { READY_FONTS, UNREADY_FONT, writeTortureLibrary } from './torture-library.ts'

/** What is broken off. */
export const ACTS = ['scan', 'make', 'prepare', 'prepare --into', 'make --prepare', 'remake'] as const
export type Act = (typeof ACTS)[number]

/** One uninterrupted run of an act: what every broken-off one must come to in the end. */
export interface Reference {
  readonly steps: number
  readonly bytes: number
  readonly ms: number
  readonly outcome: Outcome
}

/** What an act came to, ids and times left out. */
export interface Outcome {
  readonly fingerprint: string | null
  /** SHA-256 of the whole image. */
  readonly image: string | null
  /** Hash of each folder that a prepared font was written as. */
  readonly folders: Readonly<Record<string, string>>
  /** What else can be compared: fonts that were found, sounds that were prepared. */
  readonly told: unknown
}

/** Where one workshop is tortured. */
export interface Place {
  readonly act: Act
  readonly workshop: string
  readonly image: string
  /** Where prepared fonts are written as folders. */
  readonly into: string
  /** The system's temporary files, as the command sees them. */
  readonly temporary: string
}

/** The clock of all runs: equal dates make equal images. */
export const TORTURE_NOW = '2026-11-26T09:00:00Z'
/** Acts whose workshop has been scanned and no more. */
const FROM_SCANNED = ['make', 'prepare', 'prepare --into', 'make --prepare'] as const
const BOARD_ID = 'torture'
const LARGEST_DOCUMENT_BYTES = 15_000
/** What lies under the image's name before a run that may replace it. */
export const OLD_IMAGE = 'an image of other days'

export type RunHow = Pick<CommandOptions, 'killAfterMs' | 'limits'>

export interface TortureBench {
  readonly library: string
  reference(act: Act): Reference
  /** A workshop as it is just before the act. @param folder where it lies; an empty one */
  newPlace(act: Act, folder?: string): Place
  /** The command line of the act. */
  wordsFor(place: Place): readonly string[]
  run(place: Place, arming?: Arming, how?: RunHow): Promise<CommandRun>
  /** @param stdout the JSON document of a run that went to its end */
  outcomeOf(place: Place, stdout: string): Outcome
  remove(): void
}

/** Writes a library, makes a workshop for each of the acts, and runs each act once to its end. */
export async function openTortureBench(acts: readonly Act[]): Promise<TortureBench> {
  const base = mkdtempSync(join(tmpdir(), 'cardwright-torture-'))
  const library = join(base, 'library')
  writeTortureLibrary(library)
  makeOld(library)
  const templates = new Map<Act, string>()
  const references = new Map<Act, Reference>()
  let numbered = 0
  let remade = ''

  function emptyPlace(act: Act, folder = join(base, `place-${++numbered}`)): Place {
    const place = {
      act,
      workshop: join(folder, 'workshop'),
      image: join(folder, 'cards', 'card.img'),
      into: join(folder, 'into'),
      temporary: join(folder, 'temporary'),
    }
    mkdirSync(join(folder, 'cards'), { recursive: true })
    mkdirSync(place.temporary)
    return place
  }

  const bench: TortureBench = {
    library,
    reference(act) {
      const reference = references.get(act)
      if (reference === undefined) throw new RangeError(`${act} has not been run to its end`)
      return reference
    },
    newPlace(act, folder) {
      const place = emptyPlace(act, folder)
      const template = templates.get(act)
      if (template !== undefined) cpSync(template, place.workshop, { recursive: true })
      if (act === 'remake') writeFileSync(place.image, OLD_IMAGE)
      return place
    },
    wordsFor: (place) => [...wordsOf(place, library, remade), '--json', '--workshop', place.workshop],
    run: (place, arming = {}, how = {}) =>
      runCommand(bench.wordsFor(place), {
        temporaryFolder: place.temporary,
        arming: { now: TORTURE_NOW, ...arming },
        ...how,
      }),
    outcomeOf,
    remove: () => rmSync(base, { recursive: true, force: true }),
  }

  async function runToItsEnd(place: Place): Promise<void> {
    const countInto = join(base, 'counted')
    const run = await bench.run(place, { countInto })
    if (run.code !== 0)
      throw new Error(`${place.act} does not even work undisturbed: ${run.stderr}${run.stdout}`)
    const counted = JSON.parse(readFileSync(countInto, 'utf8')) as { steps: number; bytes: number }
    references.set(place.act, { ...counted, ms: run.ms, outcome: outcomeOf(place, run.stdout) })
  }

  try {
    const scanned = emptyPlace('scan')
    await runToItsEnd(scanned)
    keepSmallBoard(scanned.workshop)
    for (const act of FROM_SCANNED) templates.set(act, scanned.workshop)
    for (const act of acts) {
      if (act === 'scan') continue
      if (act === 'remake') {
        const made = bench.newPlace('make')
        const { fingerprint } = outcomeOf(made, (await bench.run(made)).stdout)
        remade = fingerprint ?? ''
        loseSounds(join(made.workshop, 'store'))
        templates.set('remake', made.workshop)
      }
      await runToItsEnd(bench.newPlace(act))
    }
  } catch (error) {
    bench.remove()
    throw error
  }
  return bench
}

function wordsOf(place: Place, library: string, remade: string): readonly string[] {
  const [lantern, path] = READY_FONTS
  const target = ['--image', place.image, ...(existsSync(place.image) ? ['--replace'] : [])]
  const board = ['--board', BOARD_ID]
  switch (place.act) {
    case 'scan':
      return ['scan', library]
    case 'make':
      return ['make', lantern, path, ...board, ...target]
    case 'prepare':
      return ['prepare', UNREADY_FONT, lantern, ...board]
    case 'prepare --into':
      return ['prepare', UNREADY_FONT, lantern, ...board, '--into', place.into]
    case 'make --prepare':
      return ['make', UNREADY_FONT, path, ...board, '--prepare', ...target]
    case 'remake':
      return ['remake', remade, ...target]
  }
}

const NOTHING_MADE = { fingerprint: null, image: null, folders: {} }

function outcomeOf(place: Place, stdout: string): Outcome {
  const document: unknown = JSON.parse(stdout)
  switch (place.act) {
    case 'scan': {
      const { roots } = document as ResponseOf<'scan'>
      return {
        ...NOTHING_MADE,
        told: roots.map(({ editions, sounds, problems }) => ({ editions, sounds, problems })),
      }
    }
    case 'prepare':
    case 'prepare --into': {
      const { into } = place
      const names = existsSync(into) ? readdirSync(into) : []
      const folders = Object.fromEntries(names.map((name) => [name, treeHash(join(into, name))]))
      return { ...NOTHING_MADE, folders, told: preparedSounds(document as ResponseOf<'prepare'>) }
    }
    default: {
      const { fingerprint, imageHash, verified } = document as ResponseOf<'make'>
      return {
        ...NOTHING_MADE,
        fingerprint,
        image: sha256OfFile(place.image),
        told: { imageHash, verified },
      }
    }
  }
}

/** Whether a sound was made now or in a run before does not matter. */
function preparedSounds({ fonts }: ResponseOf<'prepare'>): unknown {
  return fonts.map(({ verdictAfter, sounds }) => ({
    verdict: verdictAfter.word,
    sounds: sounds.map(({ path, state, after }) => ({
      path,
      state: state === 'kept' ? 'made' : state,
      after: after?.sha256,
    })),
  }))
}

/** Long before any scan, so that no scan takes a file for one that is being written. */
function makeOld(folder: string): void {
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }))
    utimesSync(join(folder, name), 1_750_000_000, 1_750_000_000)
}

/** Leaves the documents, which lie nowhere else: the sounds have to come from the library again. */
function loseSounds(store: string): void {
  for (const name of readdirSync(store, { recursive: true, encoding: 'utf8' })) {
    const path = join(store, name)
    if (statSync(path).size > LARGEST_DOCUMENT_BYTES) rmSync(path)
  }
}

/** The shipped board with clusters of 2 KiB, whose images are small. */
function keepSmallBoard(workshop: string): void {
  const shipped = readFileSync(new URL('../../resources/boards/bench-32.yaml', import.meta.url), 'utf8')
  const text = shipped
    .replace('id: bench-32', `id: ${BOARD_ID}`)
    .replace('clusterBytes: 32768', 'clusterBytes: 2048')
  mkdirSync(join(workshop, 'boards'), { recursive: true })
  writeFileSync(join(workshop, 'boards', `${BOARD_ID}.yaml`), text)
}
