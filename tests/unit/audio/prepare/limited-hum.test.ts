import { describe, expect, test } from 'vitest'
import { limitedHum } from '../../../../app/audio/prepare/limited-hum.ts'
import { measured } from '../../../support/inspected.ts'
import { chosenFor, doneWith, type Waves } from '../../../support/prepare-in-memory.ts'
import { shippedBoard } from '../../../support/shipped-boards.ts'
import { noise, sine } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

const RATE = 44_100
const board = shippedBoard('bench-44')
const limiting = { ceilingDbtp: -1, mostReductionDb: 6, aimLufs: -22 }

describe('the gain of a hum through the limiter', () => {
  test('is left to its level alone where no peak comes near the ceiling', () => {
    const measures = { levelLufs: -30, truePeakDbtp: -12 }
    expect(limitedHum(measures, limiting, () => expect.unreachable())).toBeNull()
    expect(limitedHum({ levelLufs: null, truePeakDbtp: -1 }, limiting, () => null)).toBeNull()
  })

  test('is looked for where peaks meet it', () => {
    // Half of every decibel above the ceiling is lost.
    const levelAt = (gainDb: number) => -28 + gainDb - Math.max(0, -4 + gainDb + 1) / 2
    const found = limitedHum({ levelLufs: -28, truePeakDbtp: -4 }, limiting, levelAt)
    expect(found?.levelLufs).toBe(-28)
    expect(levelAt(found?.toAimDb ?? 0)).toBeCloseTo(-22, 1)
    expect(found?.mostDb).toBeCloseTo(8.9, 5)
  })

  test('is told as it would be needed where it is more than may be limited', () => {
    const found = limitedHum({ levelLufs: -40, truePeakDbtp: -4 }, limiting, (gainDb) => -40 + gainDb)
    expect(found?.mostDb).toBeCloseTo(8.9, 5)
    expect(found?.toAimDb).toBeCloseTo(18, 1)
  })

  test('starts from what the limiter leaves of a hum that lies above the ceiling as it is', () => {
    const found = limitedHum({ levelLufs: -22, truePeakDbtp: 2 }, limiting, (gainDb) => -24 + gainDb)
    expect(found?.levelLufs).toBe(-24)
    expect(found?.toAimDb).toBeCloseTo(2, 5)
  })
})

/** A hum that crackles: its peaks lie far above its level. */
function crackling(humGain: number, peak: number, everyFrames: number): Float64Array {
  const samples = sine(RATE, 200, 2 * RATE, humGain)
  for (let frame = 300; frame < samples.length - 300; frame += everyFrames) {
    for (let near = -60; near <= 60; near++) {
      samples[frame + near]! += peak * Math.cos((Math.PI * near) / 8) * Math.exp(-Math.abs(near) / 20)
    }
  }
  return samples
}

const wave = (samples: Float64Array) => wavFile([samples], { rateHz: RATE })
const clash = noise(4, RATE, 0.1).map((sample, frame) => sample * Math.exp(-frame / 8000))

function preparedFonts(...hums: readonly Float64Array[]) {
  const fonts = hums.map((hum): Waves => ({ 'hum.wav': wave(hum), 'clash-01.wav': wave(clash) }))
  const chosen = chosenFor(fonts, board)
  const once = fonts.map((waves, index) => doneWith(waves, chosen[index]!))
  return { fonts, chosen, once }
}

describe('a font whose hum meets the limiter', () => {
  test('lands at the level of the others, and rests there', () => {
    const loud = crackling(0.06, 0.75, 9000)
    const { once, chosen } = preparedFonts(loud, sine(RATE, 200, 2 * RATE, 0.3))
    const levels = once.map((waves) => measured(waves['hum.wav']!).levels.integratedLufs ?? 0)
    // Reckoned from its level alone the gain would be smaller, and the hum too soft.
    expect(chosen[0]!.gain!.gainDb).toBeGreaterThan(
      -22 - (measured(wave(loud)).levels.integratedLufs ?? 0) + 0.2,
    )
    for (const level of levels) expect(Math.abs(level + 22)).toBeLessThan(0.1)
    expect(chosen[0]!.humForeseenLufs).toBeCloseTo(levels[0]!, 1)
    const again = chosenFor(once, board).flatMap(({ recipes }) =>
      recipes.flatMap(({ recipe }) => recipe.steps),
    )
    expect(again).toEqual([])
  })

  test('moves as a whole by what its hum can be raised, and says so', () => {
    const { once, chosen, fonts } = preparedFonts(crackling(0.004, 0.7, 9000))
    const gainDb = chosen[0]!.gain!.gainDb
    expect(chosen[0]!.told.join()).toMatch(/since its peaks may be limited by no more than 6 dB/)
    expect(gainDb + (measured(fonts[0]!['hum.wav']!).levels.truePeakDbtp ?? 0)).toBeLessThanOrEqual(5)
    const clashes = [fonts, once].map(
      ([waves]) => measured(waves!['clash-01.wav']!).levels.integratedLufs ?? 0,
    )
    expect(clashes[1]! - clashes[0]!).toBeCloseTo(gainDb, 1)
  })
})
