import { describe, expect, test } from 'vitest'
import { draftFont } from '../../../../app/audio/prepare/draft-font.ts'
import { fontGains } from '../../../../app/audio/prepare/font-gains.ts'
import type { Board } from '../../../../app/model/board.ts'
import { judged } from '../../../support/judged-font.ts'
import {
  chosenFor,
  doneWith,
  fontOfWaves,
  toPrepare,
  type Waves,
} from '../../../support/prepare-in-memory.ts'
import { measured } from '../../../support/inspected.ts'
import { shippedBoard } from '../../../support/shipped-boards.ts'
import { noise, sine } from '../../../support/signals.ts'
import { wavFile, type WavOptions } from '../../../support/wav-bytes.ts'

/** Sounds that once needed a second preparing, each for a reason of its own. */
const RATE = 44_100
const board = shippedBoard('bench-44')

function wave(samples: Float64Array | Float64Array[], options: WavOptions = {}): Uint8Array {
  return wavFile(samples instanceof Float64Array ? [samples] : samples, { rateHz: RATE, ...options })
}

function hum(gain: number, seconds = 1): Float64Array {
  const frames = Math.round(RATE * seconds)
  const high = sine(RATE, 730, frames, gain * 0.4)
  return sine(RATE, 100, frames, gain).map((sample, frame) => sample + (high[frame] ?? 0))
}

const burst = (gain: number, seconds = 1, seed = 4) =>
  noise(seed, Math.round(RATE * seconds), gain).map((sample, frame) => sample * Math.exp(-frame / 8000))

const raisedBy = (samples: Float64Array, offset: number) => samples.map((sample) => sample + offset)

/** What a second preparing would do, where no record says that there was a first. */
function doneAgain(fonts: readonly Waves[], on: Board = board, speakerHz: number | null = null) {
  const first = chosenFor(fonts, on, speakerHz)
  const once = fonts.map((waves, index) => doneWith(waves, first[index]!))
  const again = chosenFor(once, on, speakerHz).flatMap(({ recipes }) =>
    recipes.flatMap(({ sound, recipe }) =>
      recipe.steps.map(({ action, reason }) => `${sound.path} ${action.do}: ${reason}`),
    ),
  )
  return { once, again }
}

describe('what was prepared once needs nothing more', () => {
  const alone = (change: Waves): Waves => ({ 'hum.wav': wave(hum(0.13)), ...change })

  test.each<{ name: string; waves: Waves }>([
    {
      name: 'an offset in both channels, which summing makes larger',
      waves: alone({ 'clash-01.wav': wave([raisedBy(burst(0.3), 0.0085), raisedBy(burst(0.3), 0.0085)]) }),
    },
    {
      name: 'a lopsided sound, whose silence hid its offset until it was trimmed',
      waves: alone({
        'clash-01.wav': wave(
          Float64Array.from([...burst(0.3, 0.1).map(Math.abs), ...new Float64Array(2 * RATE)]),
        ),
      }),
    },
    {
      name: 'a short loop that is cut in the middle of a turn',
      waves: alone({
        'swing-low-01.wav': wave(hum(0.1, 0.02).subarray(0, 700)),
        'swing-high-01.wav': wave(hum(0.1, 0.02)),
      }),
    },
    {
      name: 'an offset on the side of zero where the sound is smaller',
      waves: alone({
        'clash-01.wav': wave(
          Float64Array.from({ length: RATE / 2 }, (_, frame) => (frame % 441 < 20 ? -0.6 : 0.38)),
        ),
      }),
    },
  ])('$name', ({ waves }) => {
    expect(doneAgain([waves]).again).toEqual([])
  })

  test('silence that an offset hides is cut off on the way', () => {
    const late = Float64Array.from([...new Float64Array(8000), ...burst(0.3), ...new Float64Array(2 * RATE)])
    const { once, again } = doneAgain([alone({ 'clash-01.wav': wave(raisedBy(late, 0.05)) })])
    expect(measured(wave(raisedBy(late, 0.05))).onsetMs).toBe(0)
    const { onsetMs, trailingSilenceMs } = measured(once[0]!['clash-01.wav']!)
    expect(onsetMs).toBeLessThan(10)
    expect(trailingSilenceMs).toBeLessThan(100)
    expect(again).toEqual([])
  })

  test.each([
    { name: 'an offset', channels: (fading: Float64Array) => [raisedBy(fading, 0.2)] },
    {
      name: 'another channel',
      channels: (fading: Float64Array) => {
        const steady = sine(RATE, 5000, fading.length, 0.15)
        const opposite = steady.map((sample) => -sample)
        return [fading, fading].map((own, index) =>
          own.map((sample, frame) => sample + ([steady, opposite][index]?.[frame] ?? 0)),
        )
      },
    },
  ])('a fade at the ends of a loop that $name hides is left out', ({ channels }) => {
    const turning = hum(0.3, 2)
    const fading = turning.map((sample, frame) => {
      return sample * Math.min(1, Math.min(frame, turning.length - 1 - frame) / 8000)
    })
    const loop = wave(channels(fading))
    expect(measured(loop).seam.dipDb).toBeGreaterThan(-9)
    const { once, again } = doneAgain([alone({ 'lockup.wav': loop })])
    expect(measured(once[0]!['lockup.wav']!).seam.dipDb).toBeGreaterThan(-9)
    expect(again).toEqual([])
  })

  test('a loop with pauses closes where it sounds, not in a pause', () => {
    const frames = 126_300
    const loud = noise(9, frames, 0.2)
    const soft = sine(RATE, 100, frames, 0.0004)
    const isPause = (frame: number) => (frame + 13_000) % 15_000 < 6000
    const gated = loud.map((sample, frame) => (isPause(frame) ? (soft[frame] ?? 0) : sample))
    const { once, again } = doneAgain([alone({ 'lockup.wav': wave(gated) })])
    expect(measured(wave(gated)).seam.dipDb).toBeLessThan(-40)
    expect(measured(once[0]!['lockup.wav']!).seam.dipDb).toBeGreaterThan(-9)
    expect(again).toEqual([])
  })

  test('edges that a high-pass lifts stay below the ceiling', () => {
    const square = Float64Array.from({ length: RATE }, (_, frame) => (frame % 1102 < 551 ? 0.47 : -0.47))
    const { once, again } = doneAgain(
      [{ 'hum.wav': wave(sine(RATE, 1000, RATE, 0.11)), 'clash-01.wav': wave(square) }],
      board,
      250,
    )
    expect(measured(once[0]!['clash-01.wav']!).levels.truePeakDbtp).toBeLessThanOrEqual(-1)
    expect(again.filter((line) => line.startsWith('clash'))).toEqual([])
  })

  test('sound of more channels than are measured is held below the ceiling all the same', () => {
    const nine = Array.from({ length: 9 }, () => burst(0.8))
    const { once, again } = doneAgain([alone({ 'clash-01.wav': wave(nine) })])
    expect(measured(once[0]!['clash-01.wav']!).levels.truePeakDbtp).toBeLessThanOrEqual(-1)
    expect(again).toEqual([])
  })

  test('music at a rate that loudness is not given at is measured as it comes out', () => {
    const edition = fontOfWaves(alone({ 'music-01.wav': wave(hum(0.1, 2), { rateHz: 4000 }) }))
    const sounds = toPrepare(edition, judged(edition, board).findings)
    const { groups } = draftFont({ editionId: 'e', name: 'E', sounds, speakerLowLimitHz: null }, board)
    const asked = groups.flatMap(({ group, drafts }) =>
      group.sounds.map(({ wantsLevels }, place) => [drafts[place]?.sound.path, wantsLevels]),
    )
    expect(asked).toContainEqual(['music-01.wav', true])
  })
})

describe('one gain a font', () => {
  const levels = { ...board.levels, hum: { lowestLufs: -24, highestLufs: -20 }, spreadLu: 1 }
  const font = (editionId: string, levelsLufs: number[], isAltered = false) => {
    return { editionId, name: editionId, levelsLufs, isAltered }
  }

  test('of hums too far apart for the band comes to rest where it keeps the card even', () => {
    const fonts = [font('even', [-22]), font('wide', [-20.1, -38])]
    const gain = fontGains(fonts, levels).gains.get('wide')?.gainDb ?? 0
    // As near to the softer hum's band as the other font allows.
    expect(gain).toBeCloseTo(-1.45, 5)
    const then = [font('even', [-22]), font('wide', [-20.1 + gain, -38 + gain])]
    expect([...fontGains(then, levels).gains]).toEqual([])
  })

  test('of hums that just fit the band is the same where others are evened with it', () => {
    const fonts = [font('odd', [-20.4]), font('two', [-21.3, -23.6]), font('far', [-30])]
    const { gains } = fontGains(fonts, levels)
    const then = fonts.map(({ editionId, levelsLufs }) => {
      const gainDb = gains.get(editionId)?.gainDb ?? 0
      return font(
        editionId,
        levelsLufs.map((level) => level + gainDb),
      )
    })
    const [, two] = then
    expect(Math.min(...(two?.levelsLufs ?? []))).toBeGreaterThanOrEqual(-24)
    expect([...fontGains(then, levels).gains]).toEqual([])
  })

  test('leaves what is not touched at the very edge of the band, but makes nothing anew there', () => {
    expect(fontGains([font('a', [-24])], levels).gains.size).toBe(0)
    expect(fontGains([font('a', [-24], true)], levels).gains.get('a')?.gainDb).toBe(2)
    expect(fontGains([font('a', [-20.02], true)], levels).gains.get('a')?.gainDb).toBe(-1.98)
  })

  test('leaves fonts that are not touched at the very edge of evenness, but brings none there', () => {
    const at = (moved: number) => [font('a', [-21]), font('b', [moved])]
    expect(fontGains(at(-22), levels).gains.size).toBe(0)
    const { gains } = fontGains(at(-30), levels)
    expect([...gains.keys()].sort()).toEqual(['a', 'b'])
  })
})

describe('layers that play together', () => {
  test('keep their distance below a ceiling that the user set', () => {
    const pair = { 'swing-low-01.wav': wave(hum(0.5)), 'swing-high-01.wav': wave(hum(0.2)) }
    const chosen = chosenFor([{ 'hum.wav': wave(hum(0.13)), ...pair }], board, null, {
      'swing-low-01.wav': { ceiling: -8 },
    })
    const swings = chosen[0]!.recipes.filter(({ sound }) => sound.place.layer !== null)
    const gains = swings.map(({ recipe }) =>
      recipe.steps.flatMap(({ action }) => (action.do === 'gain' ? [action.gainDb] : [])),
    )
    expect(gains[0]).toHaveLength(1)
    expect(gains[0]).toEqual(gains[1])
    expect(
      swings.flatMap(({ recipe }) => recipe.steps.filter(({ action }) => action.do === 'ceiling')),
    ).toEqual([])
  })

  test('are brought to one rate before they are cut to one length', () => {
    const rates = [22_050, 44_100]
    const layer = (rateHz: number) => wave(sine(rateHz, 100, rateHz + 60, 0.2), { rateHz })
    const waves = { 'swing-low-01.wav': layer(22_050), 'swing-high-01.wav': layer(44_100) }
    const on = { ...board, audio: { ...board.audio, sampleRatesHz: rates, oneRateInFont: null } }
    const edition = fontOfWaves(waves)
    const sounds = toPrepare(edition, judged(edition, on).findings)
    const { drafts } = draftFont({ editionId: 'e', name: 'E', sounds, speakerLowLimitHz: null }, on)
    const steps = Object.fromEntries(
      drafts.map((draft) => [draft.sound.path, draft.steps.map(({ action }) => action)]),
    )
    expect(steps).toEqual({
      'swing-low-01.wav': [{ do: 'sample-rate', fromHz: 22_050, toHz: 44_100, isLoop: true }],
      'swing-high-01.wav': [],
    })
  })

  test('are one layer alone where there is no sound in the other', () => {
    const cut = hum(0.2).subarray(0, RATE - 137)
    const waves = { 'hum.wav': wave(hum(0.13)), 'swing-low-01.wav': wave(cut) }
    const nothing = { 'swing-high-01.wav': wave(new Float64Array(0)) }
    const steps = (font: Waves) =>
      chosenFor([font], board)[0]!
        .recipes.find(({ sound }) => sound.path === 'swing-low-01.wav')!
        .recipe.steps.map(({ action }) => action)
    expect(steps(waves).map((action) => action.do)).toContain('repair-seam')
    expect(steps({ ...waves, ...nothing })).toEqual(steps(waves))
  })
})
