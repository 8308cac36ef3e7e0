import { closeSync, openSync } from 'node:fs'
import { join } from 'node:path'
import { inspectSound } from '../../app/audio/inspect-sound.ts'
import {
  answerChannels,
  answerGroup,
  withChannels,
  type AskedSound,
} from '../../app/audio/prepare/answer-group.ts'
import { actionOf, afterRate, beforeRate, finishRecipe } from '../../app/audio/prepare/run-recipe.ts'
import { AppError, Cancelled, type ErrorReport } from '../../app/errors/app-error.ts'
import type { SoundAnswer, SoundGroup, SoundQuestion } from '../../app/model/preparation.ts'
import type { Recipe, RecipeOutcome } from '../../app/model/recipe.ts'
import type { CancelCheck } from '../../app/ports/bytes.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { SampleRounder } from '../../app/ports/sample-rounder.ts'
import type {
  Came,
  GroupToAnswer,
  MadeSound,
  OriginalFile,
  SoundToMake,
} from '../../app/ports/sound-preparer.ts'
import { newSha256 } from '../adapters/files/new-sha256.ts'
import { WAVEFILE_MOST_BYTES } from '../adapters/media/decode-by-wavefile.ts'
import { disproof } from '../adapters/media/proof-by-wavefile.ts'
import type { FfmpegAbilities } from '../adapters/media/ffmpeg-build.ts'
import { resampleBatch } from '../adapters/media/resample-batch.ts'
import { FfmpegFailure } from '../adapters/media/run-ffmpeg.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'
import { openOriginal, type OpenSamples } from './original-source.ts'
import { openConverted, passForRate, writeForRate, type RateCrossing } from './rate-files.ts'
import { preparingFault } from './preparing-faults.ts'
import { writeWhole } from './write-whole.ts'

/** What a job needs besides its sounds. */
export interface PrepareTools {
  readonly kernel: Kernel
  readonly rounder: SampleRounder
  readonly abilities: FfmpegAbilities
  /** Memory for a whole file, used again for the next: it holds until then. */
  readonly roomFor: (sizeBytes: number) => Uint8Array
  /** Of this worker alone. What it leaves there is removed by whoever started it. */
  readonly scratchFolder: string
  /** For synchronous work, and for what waits. */
  readonly cancel: CancelCheck
  readonly abort: AbortLike
  /** Numbers names in the scratch folder. */
  readonly nextNumber: () => number
  readonly remove: (path: string) => void
}

/** A sound as far as the sample rate: ready to go on, or why not. */
interface Arrived {
  readonly samples?: OpenSamples
  readonly crossing?: RateCrossing
  readonly folded: Pick<SoundAnswer, 'channels' | 'sumDb'>
  readonly problem?: ErrorReport
  readonly paths: readonly string[]
}

/** What is only measured needs no finer samples than these, whatever it is rounded to. */
const LISTENING_BITS = 16

const NO_FOLD = { channels: null, sumDb: null }

/** Answers groups of one job. Each is answered or has a problem; only Cancelled is thrown. */
export async function answerGroups(
  groups: readonly GroupToAnswer[],
  tools: PrepareTools,
  onDone: (place: number, came: Came<readonly SoundAnswer[]>) => void,
): Promise<void> {
  const asked = groups.flatMap(({ group, originals }, place) =>
    group.sounds.map((question, index) => ({ place, question, original: originals[index] })),
  )
  const arrivals = await arriveAll(
    asked.map(({ original, question }) => ({
      original,
      recipe: question.recipe,
      foldTo: question.foldTo,
      bitDepth: LISTENING_BITS,
    })),
    tools,
  )
  try {
    groups.forEach(({ group }, place) => {
      const members = asked.flatMap((each, index) =>
        each.place === place ? [{ question: each.question, arrived: arrivals[index] }] : [],
      )
      onDone(
        place,
        guarded(() => answersOf(group, members, tools)),
      )
    })
  } finally {
    leaveAll(arrivals, tools)
  }
}

function answersOf(
  group: SoundGroup,
  members: readonly { readonly question: SoundQuestion; readonly arrived: Arrived | undefined }[],
  tools: PrepareTools,
): readonly SoundAnswer[] {
  const opened: OpenSamples[] = []
  try {
    const sounds = members.map(({ question, arrived }): AskedSound => {
      const samples = enter(arrived)
      opened.push(samples)
      return { question, source: samples.source, folded: arrived?.folded ?? NO_FOLD }
    })
    return answerGroup(group, sounds, tools.kernel, tools.cancel)
  } finally {
    for (const samples of opened) samples.close()
  }
}

/** Makes the sounds of one job. Each is made or has a problem; only Cancelled is thrown. */
export async function makeSounds(
  sounds: readonly SoundToMake[],
  tools: PrepareTools,
  onDone: (place: number, came: Came<MadeSound>) => void,
): Promise<void> {
  const arrivals = await arriveAll(
    sounds.map(({ original, recipe }) => {
      return { original, recipe, foldTo: null, bitDepth: actionOf(recipe, 'bit-depth')?.bitDepth ?? 32 }
    }),
    tools,
  )
  try {
    sounds.forEach(({ original, recipe }, place) => {
      onDone(
        place,
        guarded(() => {
          const samples = enter(arrivals[place])
          try {
            return madeFrom(samples, recipe, original.sha256, tools)
          } finally {
            samples.close()
          }
        }),
      )
    })
  } finally {
    leaveAll(arrivals, tools)
  }
}

/** A limiter's output is held against the ceiling by the meter, and done again a little lower if need be. */
const MOST_TRIES = 4

function madeFrom(samples: OpenSamples, recipe: Recipe, seed: string, tools: PrepareTools): MadeSound {
  const { source: sound, removedDc } = afterRate(samples.source, recipe)
  const depth = actionOf(recipe, 'bit-depth')
  const ceiling = actionOf(recipe, 'ceiling')
  const path = join(tools.scratchFolder, `${tools.nextNumber()}.wav`)
  const bitDepth = depth?.bitDepth ?? samples.bitDepth
  const aimLufs = actionOf(recipe, 'gain')?.aimLufs
  let softenedByDb = 0
  let correctedByDb = 0
  let underCeilingDb = 0
  for (let attempt = 1; ; attempt++) {
    const { rounder, cancel } = tools
    const options = { bitDepth, seed, rounder, softenedByDb, correctedByDb, underCeilingDb, cancel }
    const done = written(path, (sink) => finishRecipe(sound, recipe, options, sink))
    const tooMuch = ceiling === undefined ? 0 : done.limitedByDb - ceiling.mostReductionDb
    if (tooMuch > 0 && attempt < MOST_TRIES) {
      softenedByDb += Math.ceil(tooMuch * 100) / 100
      continue
    }
    const read = readBack(path, tools)
    const peak = read.inspection.measures?.levels.truePeakDbtp ?? null
    const above = ceiling === undefined || peak === null ? 0 : peak - ceiling.ceilingDbtp
    if (above > 0 && attempt < MOST_TRIES) {
      underCeilingDb += above + 0.01
      continue
    }
    const missedByDb = missedBy(aimLufs, read, done.limitedByDb, softenedByDb)
    if (missedByDb !== 0 && correctedByDb === 0 && attempt < MOST_TRIES) {
      correctedByDb = missedByDb
      continue
    }
    const outcome: RecipeOutcome = { ...done, softenedByDb, correctedByDb, removedDc }
    prove(read, { ...outcome, channels: sound.channels, sampleRateHz: sound.sampleRateHz, bitDepth })
    return { inspection: read.inspection, peaks: read.peaks, path, outcome }
  }
}

/** Nearer than this to its aim, a sound is left. */
const AIM_MISSED_LU = 0.05

/** By how much a sound missed its aim; where the limiter holds it down, that is told instead. */
function missedBy(
  aimLufs: number | undefined,
  { inspection }: ReadBack,
  limitedByDb: number,
  softenedByDb: number,
): number {
  const levels = inspection.measures?.levels
  const level = levels?.integratedLufs ?? levels?.momentaryMaxLufs ?? null
  if (aimLufs === undefined || level === null || limitedByDb > 0.05 || softenedByDb > 0) return 0
  const missed = Math.round((aimLufs - level) * 100) / 100
  return Math.abs(missed) > AIM_MISSED_LU ? missed : 0
}

function written<T>(path: string, write: (sink: { write(bytes: Uint8Array): void }) => T): T {
  const handle = openSync(path, 'w')
  try {
    return write({ write: (bytes) => writeWhole(handle, bytes) })
  } finally {
    closeSync(handle)
  }
}

/** What was written, read from the disk: in one piece where another reader is to see it too. */
function readBack(path: string, { kernel, cancel, roomFor }: PrepareTools): ReadBack {
  const tools = { kernel, newHasher: newSha256, cancel }
  const file = openFileSource(path)
  try {
    if (file.sizeBytes > WAVEFILE_MOST_BYTES) return { ...inspectSound(file, tools), bytes: undefined }
    const bytes = roomFor(file.sizeBytes)
    file.readInto(bytes, 0)
    return { ...inspectSound(bytesSource(bytes), tools), bytes }
  } finally {
    file.close()
  }
}

type ReadBack = Pick<MadeSound, 'inspection' | 'peaks'> & { readonly bytes: Uint8Array | undefined }

/** @throws AppError `prepare/not-proven` where what was written does not read as it should: a fault of ours */
function prove(
  { inspection, bytes }: ReadBack,
  format: { frames: number; channels: number; sampleRateHz: number; bitDepth: number },
): void {
  const { facts } = inspection
  const isSound = facts?.frames === format.frames && facts.defects.length === 0
  const disproved = isSound && bytes !== undefined ? disproof(bytes, format) : undefined
  const fault = isSound ? disproved : 'our own reader finds a fault in it'
  if (fault === undefined) return
  throw new AppError({
    code: 'prepare/not-proven',
    what: `The prepared sound does not read back as it was written: ${fault}.`,
    where: '',
    mend: 'Report it; the original is unchanged.',
    kind: 'machine',
  })
}

interface Arriving {
  readonly original: OriginalFile | undefined
  readonly recipe: Recipe
  readonly foldTo: number | null
  /** What its samples are rounded to in the end. */
  readonly bitDepth: number
}

/** Brings sounds through channels and sample rate; one run of ffmpeg for all that need it. */
async function arriveAll(sounds: readonly Arriving[], tools: PrepareTools): Promise<Arrived[]> {
  const arrivals: Arrived[] = []
  for (const sound of sounds) arrivals.push(await arrive(sound, tools))
  const crossings = arrivals.flatMap(({ crossing }) => (crossing === undefined ? [] : [crossing]))
  const failures = await convertAll(crossings, tools)
  return arrivals.map((arrived) => {
    const failure = arrived.crossing === undefined ? undefined : failures.get(arrived.crossing)
    return failure === undefined ? arrived : { folded: NO_FOLD, paths: arrived.paths, problem: failure }
  })
}

async function arrive(
  { original, recipe, foldTo, bitDepth }: Arriving,
  tools: PrepareTools,
): Promise<Arrived> {
  const number = tools.nextNumber()
  const name = (ending: string) => join(tools.scratchFolder, `${number}.${ending}`)
  const paths = [name('decoded'), name('in'), name('out')]
  let samples: OpenSamples | undefined
  try {
    tools.cancel()
    if (original === undefined) throw new RangeError('a sound without its original')
    samples = await openOriginal(original.path, name('decoded'), tools.abort)
    const question = { recipe, foldTo } as SoundQuestion
    const folded = foldTo === null ? NO_FOLD : answerChannels(samples.source, foldTo)
    const source = beforeRate(samples.source, withChannels(question, folded.channels))
    const rate = actionOf(recipe, 'sample-rate')
    if (rate === undefined) return { samples: { ...samples, source }, folded, paths }
    const { lying } = samples
    const isAsItLies = lying !== undefined && source === samples.source && !rate.isLoop
    const order = { ...rate, bitDepth }
    const crossing = isAsItLies
      ? passForRate(source, order, lying, name('out'))
      : writeForRate(source, order, { inPath: name('in'), outPath: name('out') }, tools.cancel)
    samples.close()
    return { crossing, folded, paths }
  } catch (error) {
    samples?.close()
    if (error instanceof Cancelled) throw error
    return { folded: NO_FOLD, problem: preparingFault(error), paths }
  }
}

/** Where a run for many fails, each is tried alone, so that one bad sound costs the others nothing. */
async function convertAll(
  crossings: readonly RateCrossing[],
  tools: PrepareTools,
): Promise<ReadonlyMap<RateCrossing, ErrorReport>> {
  const failures = new Map<RateCrossing, ErrorReport>()
  const run = (some: readonly RateCrossing[]) =>
    resampleBatch(
      some.map(({ item }) => item),
      { abilities: tools.abilities, cancel: tools.abort },
    )
  try {
    await run(crossings)
  } catch (error) {
    if (!(error instanceof FfmpegFailure)) throw error
    tools.cancel()
    if (error.cause === 'missing' || error.cause === 'full' || crossings.length === 1) {
      for (const crossing of crossings) failures.set(crossing, rateReport(error))
      return failures
    }
    for (const crossing of crossings) {
      await run([crossing]).catch((alone: unknown) => {
        tools.cancel()
        failures.set(crossing, alone instanceof FfmpegFailure ? rateReport(alone) : preparingFault(alone))
      })
    }
  }
  return failures
}

function rateReport({ cause, lastLine }: FfmpegFailure): ErrorReport {
  if (cause === 'full') return preparingFault({ code: 'ENOSPC' })
  const what = {
    missing: 'ffmpeg could not be run, and changing the sample rate needs it.',
    hung: 'ffmpeg took far too long to change the sample rate and was ended.',
    cancelled: 'Changing the sample rate was cancelled.',
    refused: `ffmpeg could not change the sample rate${lastLine === '' ? '' : ` (${lastLine})`}.`,
  }[cause]
  const mend =
    cause === 'missing'
      ? 'Install ffmpeg, or set CARDWRIGHT_FFMPEG to its path; then prepare again.'
      : 'Prepare again; if it comes back, name another ffmpeg with CARDWRIGHT_FFMPEG.'
  return { code: cause === 'missing' ? 'prepare/no-ffmpeg' : 'prepare/ffmpeg-failed', what, where: '', mend }
}

/** The samples of a sound that has arrived. @throws AppError that kept it from arriving */
function enter(arrived: Arrived | undefined): OpenSamples {
  if (arrived?.problem !== undefined) throw new AppError(arrived.problem)
  if (arrived?.crossing !== undefined) return openConverted(arrived.crossing)
  if (arrived?.samples !== undefined) return arrived.samples
  throw new RangeError('a sound that never arrived')
}

function leaveAll(arrivals: readonly Arrived[], tools: PrepareTools): void {
  for (const { samples, paths } of arrivals) {
    samples?.close()
    for (const path of paths) tools.remove(path)
  }
}

function guarded<T>(work: () => T): Came<T> {
  try {
    return { made: work() }
  } catch (error) {
    if (error instanceof Cancelled) throw error
    return { problem: preparingFault(error) }
  }
}
