import type {
  HumLimiting,
  SeamFound,
  SoundAnswer,
  SoundGroup,
  SoundQuestion,
} from '../../model/preparation.ts'
import type { Recipe } from '../../model/recipe.ts'
import type { CancelCheck } from '../../ports/bytes.ts'
import type { Kernel } from '../../ports/kernel.ts'
import { checkPhase } from './channels.ts'
import { channelMeans } from './dc-removal.ts'
import { steadyLevel, type LevelReadings } from '../level-of.ts'
import { limitedHum } from './limited-hum.ts'
import { highPassed } from './high-pass.ts'
import { measureStream } from './measure-stream.ts'
import { afterRate, processedStream } from './run-recipe.ts'
import type { SampleSource, SampleStream } from './sample-source.ts'
import { DEEPEST_DIP_DB } from '../../model/sound-ends.ts'
import { endDipDb } from './hop-loudness.ts'
import { soundEnds } from './sound-ends.ts'
import { findSeam, withRepairedSeam } from './seam-repair.ts'

/**
 * How the channels of a sound are brought to fewer: summed, or one kept where the sum would cancel.
 * To several the channels are only grouped, and no check is needed.
 */
export function answerChannels(
  source: SampleSource,
  foldTo: number,
): Pick<SoundAnswer, 'channels' | 'sumDb'> {
  if (foldTo > 1) return { channels: { do: 'channels', how: 'fold', to: foldTo, kept: 0 }, sumDb: null }
  const { cancels, loudest, sumDb } = checkPhase(source)
  const how = cancels ? 'keep' : 'fold'
  const rounded = sumDb === null ? null : Math.round(sumDb * 10) / 10
  return { channels: { do: 'channels', how, to: 1, kept: cancels ? loudest : 0 }, sumDb: rounded }
}

/** A question with how its channels are folded written into its recipe. */
export function withChannels(question: SoundQuestion, channels: SoundAnswer['channels']): Recipe {
  if (channels === null) return question.recipe
  const step = { action: channels, rule: 'channels', reason: '' }
  return { ...question.recipe, steps: [step, ...question.recipe.steps] }
}

export interface AskedSound {
  readonly question: SoundQuestion
  /** The sound with its channels and sample rate as they will be. */
  readonly source: SampleSource
  readonly folded: Pick<SoundAnswer, 'channels' | 'sumDb'>
}

/** Looks for the seam that fits all sounds of a group, and measures each with its seam repaired. */
export function answerGroup(
  group: Pick<SoundGroup, 'wantsSeam' | 'mayHideDip'>,
  sounds: readonly AskedSound[],
  kernel: Kernel,
  cancel: CancelCheck,
): readonly SoundAnswer[] {
  const sources = sounds.map(({ source, question }) => afterRate(source, question.recipe).source)
  const isSoft = (source: SampleSource) => (endDipDb(source) ?? 0) < DEEPEST_DIP_DB
  const wantsSeam = group.wantsSeam || (group.mayHideDip && sources.some(isSoft))
  const found = wantsSeam ? findSeam(sources) : undefined
  const seam: SeamFound | null = found === undefined ? null : { do: 'repair-seam', ...found }
  return sounds.map(({ question, folded }, index): SoundAnswer => {
    const source = sources[index]
    const closed = source !== undefined && found !== undefined ? withRepairedSeam(source, found) : source
    const dcOffset = closed === undefined || found === undefined ? null : largestMean(closed)
    const ends = closed !== undefined && question.wantsEnds ? soundEnds(closed) : null
    const none = { ...folded, seam, levels: null, throughSpeaker: null, dcOffset, limited: null, ends }
    if (closed === undefined || !question.wantsLevels) return none
    const measure = (stream: SampleStream) => measureStream(stream, closed.frames, kernel, cancel)
    const limit = question.speakerLowLimitHz
    const heardAs = (recipe: Recipe) => {
      const stream = processedStream(closed, recipe)
      return limit === null ? stream : highPassed(stream, limit)
    }
    const levels = measure(processedStream(closed, question.recipe))
    const throughSpeaker = limit === null ? null : readings(measure(heardAs(question.recipe)))
    const { limiting } = question
    if (limiting === null) return { ...none, levels, throughSpeaker }
    const before = {
      levelLufs: levelOfLoop(throughSpeaker ?? levels),
      truePeakDbtp: levels?.truePeakDbtp ?? null,
    }
    const limited = limitedHum(before, limiting, (gainDb) =>
      levelOfLoop(measure(heardAs(withGain(question.recipe, gainDb, limiting)))),
    )
    return { ...none, levels, throughSpeaker, limited }
  })
}

function levelOfLoop(levels: LevelReadings | null): number | null {
  return levels === null ? null : steadyLevel(levels)
}

/** A hum's recipe with a gain to be tried, and the limiter behind it. */
function withGain(recipe: Recipe, gainDb: number, { ceilingDbtp, mostReductionDb }: HumLimiting): Recipe {
  const actions = [
    { do: 'gain', gainDb },
    { do: 'ceiling', ceilingDbtp, mostReductionDb, isLoop: true },
  ] as const
  const steps = actions.map((action) => ({ action, rule: 'level', reason: '' }))
  return { ...recipe, steps: [...recipe.steps, ...steps] }
}

function largestMean(source: SampleSource): number {
  return Math.max(...channelMeans(source).map(Math.abs))
}

function readings(levels: SoundAnswer['levels']): SoundAnswer['throughSpeaker'] {
  if (levels === null) return null
  return { integratedLufs: levels.integratedLufs, momentaryMaxLufs: levels.momentaryMaxLufs }
}
