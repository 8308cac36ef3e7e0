import { join } from 'node:path'
import { answerChannels, withChannels } from '../../app/audio/prepare/answer-group.ts'
import { actionOf, beforeRate } from '../../app/audio/prepare/run-recipe.ts'
import { AppError, Cancelled, type ErrorReport } from '../../app/errors/app-error.ts'
import { NO_FFMPEG_MEND } from '../../app/errors/no-ffmpeg.ts'
import type { SoundAnswer, SoundQuestion } from '../../app/model/preparation.ts'
import type { Recipe } from '../../app/model/recipe.ts'
import type { OriginalFile } from '../../app/ports/sound-preparer.ts'
import { resampleBatch } from '../adapters/media/resample-batch.ts'
import { FfmpegFailure } from '../adapters/media/run-ffmpeg.ts'
import { openOriginal, type OpenSamples } from './original-source.ts'
import type { PrepareTools } from './prepare-tools.ts'
import { preparingFault } from './preparing-faults.ts'
import { openConverted, passForRate, writeForRate, type RateCrossing } from './rate-files.ts'

/** A sound as far as the sample rate: ready to go on, or why not. */
export interface Arrived {
  readonly samples?: OpenSamples
  readonly crossing?: RateCrossing
  readonly folded: Pick<SoundAnswer, 'channels' | 'sumDb'>
  readonly problem?: ErrorReport
  readonly paths: readonly string[]
}

export const NO_FOLD = { channels: null, sumDb: null }

/** A sound on its way through channels and sample rate. */
export interface Arriving {
  readonly original: OriginalFile | undefined
  readonly recipe: Recipe
  readonly foldTo: number | null
  /** What its samples are rounded to in the end. */
  readonly bitDepth: number
}

/** Brings sounds through channels and sample rate; one run of ffmpeg for all that need it. */
export async function arriveAll(sounds: readonly Arriving[], tools: PrepareTools): Promise<Arrived[]> {
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
      ? NO_FFMPEG_MEND
      : 'Prepare again; if it comes back, name another ffmpeg with CARDWRIGHT_FFMPEG.'
  return { code: cause === 'missing' ? 'prepare/no-ffmpeg' : 'prepare/ffmpeg-failed', what, where: '', mend }
}

/** The samples of a sound that has arrived. @throws AppError that kept it from arriving */
export function enter(arrived: Arrived | undefined): OpenSamples {
  if (arrived?.problem !== undefined) throw new AppError(arrived.problem)
  if (arrived?.crossing !== undefined) return openConverted(arrived.crossing)
  if (arrived?.samples !== undefined) return arrived.samples
  throw new RangeError('a sound that never arrived')
}

/** Closes what was left open, and removes what lies in the scratch folder of it. */
export function leaveAll(arrivals: readonly Arrived[], tools: PrepareTools): void {
  for (const { samples, paths } of arrivals) {
    samples?.close()
    for (const path of paths) tools.remove(path)
  }
}
