import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Recipe } from '../../model/recipe.ts'
import { PLAIN_HEADER_BYTES } from './plain-wav.ts'
import { planRate } from './rate-plan.ts'
import { trimBounds } from './trim.ts'

/** What a recipe makes of a sound, as far as its steps tell; null where only doing them does. */
export interface ForeseenSound {
  readonly sizeBytes: number
  readonly sampleRateHz: number | null
  readonly bitDepth: number | null
  readonly channels: number | null
  readonly seconds: number | null
  readonly levelLufs: number | null
}

/**
 * Reckons a prepared sound from its original's facts and its recipe.
 * @param levelLufs level behind the last step
 */
export function foreseenSound(facts: AudioFacts, recipe: Recipe, levelLufs: number | null): ForeseenSound {
  let { channels, sampleRateHz, bitDepth } = facts
  let frames = facts.frames ?? 0
  for (const { action } of recipe.steps) {
    if (action.do === 'channels') channels = action.to
    else if (action.do === 'sample-rate') {
      frames = planRate(frames, action.fromHz, action.toHz, action.isLoop).frames
      sampleRateHz = action.toHz
    } else if (action.do === 'trim') {
      const { first, cutBehind } = trimBounds(frames, sampleRateHz ?? 1, action.leadMs, action.tailMs)
      frames -= first + cutBehind
    } else if (action.do === 'repair-seam') frames = action.endFrame - action.startFrame
    else if (action.do === 'bit-depth') bitDepth = action.bitDepth
  }
  const dataBytes = (frames * (channels ?? 1) * (bitDepth ?? 16)) / 8
  return {
    sizeBytes: PLAIN_HEADER_BYTES + dataBytes + (dataBytes % 2),
    ...{ sampleRateHz, bitDepth, channels, levelLufs },
    seconds: sampleRateHz === null ? null : frames / sampleRateHz,
  }
}
