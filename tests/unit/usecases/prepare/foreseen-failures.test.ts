import { expect, test } from 'vitest'
import type { Recipe, RecipeAction } from '../../../../app/model/recipe.ts'
import { foreseenFailures } from '../../../../app/usecases/prepare/foreseen-failures.ts'
import type { SoundInHand } from '../../../../app/usecases/prepare/make-sounds.ts'

const ACTIONS: readonly { readonly path: string; readonly actions: readonly RecipeAction[] }[] = [
  { path: 'other-rate.wav', actions: [{ do: 'sample-rate', fromHz: 48_000, toHz: 44_100, isLoop: false }] },
  { path: 'other-coding.wav', actions: [{ do: 'decode', by: 'decoder' }] },
  { path: 'other-depth.wav', actions: [{ do: 'bit-depth', bitDepth: 16, dither: 'tpdf' }] },
]

// Of the font nothing is looked at.
const sounds = ACTIONS.map(({ path, actions }): SoundInHand => {
  const recipe: Recipe = { steps: actions.map((action) => ({ action, rule: '', reason: '' })), told: [] }
  return { font: {} as SoundInHand['font'], path, sha256: path, recipe }
})

test('without ffmpeg a dry run tells each sound that needs it, and what to install', () => {
  const failures = foreseenFailures(sounds, { hasFfmpeg: false })
  expect([...failures.keys()].map(({ path }) => path)).toEqual(['other-rate.wav', 'other-coding.wav'])
  for (const came of failures.values())
    expect(came).toMatchObject({ state: 'failed', problem: { code: 'prepare/no-ffmpeg' } })
})

test('with ffmpeg it tells none', () => {
  expect(foreseenFailures(sounds, { hasFfmpeg: true }).size).toBe(0)
})
