import type { Recipe, RecipeAction } from '../../app/model/recipe.ts'
import { memorySource, type Samples, type SampleSource } from '../../app/audio/prepare/sample-source.ts'
import { plainRounder } from '../../app/audio/prepare/plain-rounder.ts'
import { afterRate, beforeRate, finishRecipe } from '../../app/audio/prepare/run-recipe.ts'

export const SEED = '0123456789abcdef0123456789abcdef'

export function recipeOf(...actions: RecipeAction[]): Recipe {
  return { steps: actions.map((action) => ({ action, rule: 'user', reason: 'for a test' })), told: [] }
}

/** Does a recipe without a change of rate, in memory. */
export function prepared(
  source: SampleSource,
  recipe: Recipe,
  options: { bitDepth?: number; softenedByDb?: number; underCeilingDb?: number } = {},
) {
  const pieces: Uint8Array[] = []
  const { source: sound, removedDc } = afterRate(beforeRate(source, recipe), recipe)
  const outcome = finishRecipe(
    sound,
    recipe,
    {
      bitDepth: 16,
      softenedByDb: 0,
      correctedByDb: 0,
      underCeilingDb: 0,
      seed: SEED,
      rounder: plainRounder(),
      cancel: () => {},
      ...options,
    },
    { write: (bytes) => void pieces.push(bytes.slice()) },
  )
  return { bytes: new Uint8Array(Buffer.concat(pieces)), removedDc, ...outcome }
}

export function samplesOf(frames: number, at: (frame: number) => number): Float64Array {
  return Float64Array.from({ length: frames }, (_, frame) => at(frame))
}

export function sound(samples: Samples | Float64Array, sampleRateHz = 44_100): SampleSource {
  return memorySource(samples instanceof Float64Array ? [samples] : samples, sampleRateHz)
}

/** Even noise between -1 and 1, always the same for a seed. */
export function noise(frames: number, seed = 1): Float64Array {
  let state = seed >>> 0
  return samplesOf(frames, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 31 - 1
  })
}
