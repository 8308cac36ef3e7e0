import type { Recipe, RecipeAction, RecipeOutcome } from '../../model/recipe.ts'
import type { CancelCheck } from '../../ports/bytes.ts'
import type { SampleRounder } from '../../ports/sample-rounder.ts'
import { folded, oneChannel, spread } from './channels.ts'
import { channelMeans, withoutOffset } from './dc-removal.ts'
import { highPassed, settlingSeconds } from './high-pass.ts'
import { limited, type LimitedStream } from './limiter.ts'
import { turning } from './loop-turns.ts'
import { writePlainWav, type ByteSink } from './plain-wav.ts'
import { BLOCK_FRAMES, newSamples, streamOf, type SampleSource, type SampleStream } from './sample-source.ts'
import { meansOfLoop, withRepairedSeam } from './seam-repair.ts'
import { keptOf, trimmed } from './trim.ts'

type ActionOf<D extends RecipeAction['do']> = RecipeAction & { readonly do: D }

/** The recipe's step of this kind. */
export function actionOf<D extends RecipeAction['do']>(recipe: Recipe, name: D): ActionOf<D> | undefined {
  return recipe.steps.map(({ action }) => action).find((action): action is ActionOf<D> => action.do === name)
}

/** What a recipe does before the sample rate is changed: channels. */
export function beforeRate(source: SampleSource, recipe: Recipe): SampleSource {
  const channels = actionOf(recipe, 'channels')
  if (channels === undefined) return source
  if (channels.how === 'keep') return oneChannel(source, channels.kept)
  return channels.how === 'fold' ? folded(source, channels.to) : spread(source, channels.to)
}

/** What a recipe does after that and can do anywhere in the sound: rest position, ends, seam. */
export function afterRate(
  source: SampleSource,
  recipe: Recipe,
): { readonly source: SampleSource; readonly removedDc: readonly number[] } {
  let sound = source
  let removedDc: readonly number[] = []
  const trim = actionOf(recipe, 'trim')
  const seam = actionOf(recipe, 'repair-seam')
  if (actionOf(recipe, 'remove-dc') !== undefined) {
    // What is cut off anyhow must not count.
    const kept = trim === undefined ? sound : keptOf(sound, trim.leadMs, trim.tailMs)
    removedDc = seam === undefined ? channelMeans(kept) : meansOfLoop(kept, seam)
    sound = withoutOffset(sound, removedDc)
  }
  if (trim !== undefined) sound = trimmed(sound, trim.leadMs, trim.tailMs)
  if (seam !== undefined) sound = withRepairedSeam(sound, seam)
  return { source: sound, removedDc }
}

/** Longest that any step remembers, beside the high-pass: the limiter's slow return, to -60 dB. */
const LIMITER_MEMORY_SECONDS = 0.42
/** The limiter looks this far ahead, and its interpolator a little further. */
const LOOK_AHEAD_SECONDS = 0.02
/** The limiter aims below the ceiling by this, for what smoothing the gain adds between samples. */
const CEILING_MARGIN_DB = 0.03

/** How the last stretch of a recipe is done. */
export interface FinishOptions {
  readonly bitDepth: number
  /** Seed of the dither, hexadecimal: the original's hash. */
  readonly seed: string
  readonly rounder: SampleRounder
  /** Softer than the recipe says by this: where the limiter would have to take away more than it may. */
  readonly softenedByDb: number
  /** Louder than the recipe says by this: where a first try did not land at its aim. */
  readonly correctedByDb: number
  /** Below the ceiling by this besides: where a first try came out above it. */
  readonly underCeilingDb: number
  readonly cancel: CancelCheck
}

/**
 * The steps with a memory, and writing: high-pass, gain, ceiling, depth, header. Memory does not grow
 * with the sound.
 * @throws Cancelled, AppError `prepare/too-long`, and what the sink throws
 */
export function finishRecipe(
  source: SampleSource,
  recipe: Recipe,
  options: FinishOptions,
  sink: ByteSink,
): Pick<RecipeOutcome, 'frames' | 'limitedByDb' | 'cutSamples'> {
  const { stream, gain, limiter } = processed(source, recipe, options)
  const format = {
    frames: source.frames,
    channels: source.channels,
    sampleRateHz: source.sampleRateHz,
    bitDepth: options.bitDepth,
  }
  const isDithered = actionOf(recipe, 'bit-depth')?.dither === 'tpdf'
  const rounding = { rounder: options.rounder, gain, ditherSeed: isDithered ? options.seed : null }
  const cutSamples = writePlainWav(stream, format, rounding, sink, options.cancel)
  return { frames: source.frames, cutSamples, limitedByDb: decibels(1 / (limiter?.lowestGain() ?? 1)) }
}

/** The same steps but for depth and header, for measuring what would come of them. */
export function processedStream(source: SampleSource, recipe: Recipe): SampleStream {
  const options = { bitDepth: 32, softenedByDb: 0, correctedByDb: 0, underCeilingDb: 0 }
  const { stream, gain } = processed(source, recipe, options)
  return gain === 1 ? stream : scaled(stream, gain)
}

/** `gain` is left to whoever takes the samples, where no step comes behind it: it is one pass less. */
function processed(
  source: SampleSource,
  recipe: Recipe,
  options: Pick<FinishOptions, 'bitDepth' | 'softenedByDb' | 'correctedByDb' | 'underCeilingDb'>,
): { stream: SampleStream; gain: number; limiter: LimitedStream | undefined } {
  const highPass = actionOf(recipe, 'high-pass')
  const ceiling = actionOf(recipe, 'ceiling')
  const isLoop = highPass?.isLoop === true || ceiling?.isLoop === true
  const runIn = isLoop ? runInFrames(source, highPass?.frequencyHz) : 0
  const runOn = isLoop ? Math.ceil(LOOK_AHEAD_SECONDS * source.sampleRateHz) : 0
  let stream = streamOf(isLoop ? turning(source, runIn, runOn) : source)
  if (highPass !== undefined) stream = highPassed(stream, highPass.frequencyHz)
  const gainDb = (actionOf(recipe, 'gain')?.gainDb ?? 0) + options.correctedByDb - options.softenedByDb
  const gain = gainDb === 0 ? 1 : 10 ** (gainDb / 20)
  let limiter: LimitedStream | undefined
  if (ceiling !== undefined) {
    const top = 10 ** ((ceiling.ceilingDbtp - CEILING_MARGIN_DB - options.underCeilingDb) / 20)
    // Rounding and dither can lift a sample by one and a half steps.
    limiter = limited(gain === 1 ? stream : scaled(stream, gain), top - 1.5 * 2 ** (1 - options.bitDepth))
    stream = limiter
  }
  passOver(stream, runIn)
  limiter?.forget()
  return { stream, gain: limiter === undefined ? gain : 1, limiter }
}

function runInFrames(source: SampleSource, frequencyHz: number | undefined): number {
  const filterSeconds = frequencyHz === undefined ? 0 : settlingSeconds(frequencyHz)
  return Math.ceil((filterSeconds + LIMITER_MEMORY_SECONDS) * source.sampleRateHz)
}

function scaled(stream: SampleStream, factor: number): SampleStream {
  return {
    ...stream,
    next: (frames, into) => {
      stream.next(frames, into)
      for (const samples of into) {
        for (let frame = 0; frame < frames; frame++) samples[frame] = (samples[frame] ?? 0) * factor
      }
    },
  }
}

function passOver(stream: SampleStream, frames: number): void {
  const room = newSamples(stream.channels, Math.min(frames, BLOCK_FRAMES))
  for (let done = 0; done < frames; done += BLOCK_FRAMES) {
    stream.next(Math.min(BLOCK_FRAMES, frames - done), room)
  }
}

function decibels(ratio: number): number {
  return ratio <= 1 ? 0 : 20 * Math.log10(ratio)
}
