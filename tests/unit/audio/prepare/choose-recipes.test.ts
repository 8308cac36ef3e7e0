import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fontGains, spreadToHold } from '../../../../app/audio/prepare/font-gains.ts'
import type { Recipe } from '../../../../app/model/recipe.ts'
import { measured } from '../../../support/inspected.ts'
import { boardLikeBench44, shippedBoard } from '../../../support/shipped-boards.ts'
import { chosenFor, doneWith, fontOfWaves, type Waves } from '../../../support/prepare-in-memory.ts'
import { judged } from '../../../support/judged-font.ts'
import { noise, sine } from '../../../support/signals.ts'
import { chunk, wavFile, type WavOptions } from '../../../support/wav-bytes.ts'

const RATE = 44_100
const board = shippedBoard('bench-44')

function wave(samples: Float64Array | Float64Array[], options: WavOptions = {}): Uint8Array {
  return wavFile(samples instanceof Float64Array ? [samples] : samples, { rateHz: RATE, ...options })
}

/** A hum that closes on itself: whole turns of both its tones. */
function hum(gain: number, seconds = 2): Float64Array {
  const frames = RATE * seconds
  const low = sine(RATE, 100, frames, gain)
  const high = sine(RATE, 730, frames, gain * 0.4)
  return low.map((sample, frame) => sample + (high[frame] ?? 0))
}

const burst = (seed: number, gain: number) =>
  noise(seed, RATE, gain).map((sample, frame) => sample * Math.exp(-frame / 8000))

function font(change: Waves = {}): Waves {
  return {
    'hum.wav': wave(hum(0.15)),
    'ignite-01.wav': wave(burst(1, 0.4)),
    'retract-01.wav': wave(burst(2, 0.4)),
    'swing-01.wav': wave(burst(3, 0.3)),
    'clash-01.wav': wave(burst(4, 0.5)),
    ...change,
  }
}

function recipes(waves: Waves, on = board): Record<string, Recipe> {
  const [chosen] = chosenFor([waves], on)
  return Object.fromEntries(chosen?.recipes.map(({ sound, recipe }) => [sound.path, recipe]) ?? [])
}

const steps = (recipe: Recipe | undefined) => recipe?.steps.map(({ action }) => action.do)

describe('a recipe', () => {
  test('is empty where a font is right as it is', () => {
    expect(judged(fontOfWaves(font())).findings.filter(({ fixable }) => fixable)).toEqual([])
    for (const recipe of Object.values(recipes(font()))) expect(recipe.steps).toEqual([])
  })

  test.each([
    {
      name: 'another header costs no sample: it is written anew without dither',
      change: wave(burst(4, 0.5), { after: [chunk('LIST', new Uint8Array(10))] }),
      want: ['decode', 'header'],
    },
    {
      name: 'two channels are folded',
      change: wave([burst(4, 0.3), burst(5, 0.3)]),
      want: ['decode', 'channels', 'bit-depth', 'header'],
    },
    {
      name: '24 bit become 16',
      change: wave(burst(4, 0.5), { bits: 24 }),
      want: ['decode', 'bit-depth', 'header'],
    },
    {
      name: 'DC is taken out',
      change: wave(burst(4, 0.3).map((sample) => sample + 0.05)),
      want: ['decode', 'remove-dc', 'bit-depth', 'header'],
    },
    {
      name: 'a late clash is cut at its start',
      change: wave(Float64Array.from([...new Float64Array(8000), ...burst(4, 0.5)])),
      want: ['decode', 'trim', 'bit-depth', 'header'],
    },
    {
      name: 'a peak above the ceiling is limited',
      change: wave(burst(4, 0.999)),
      want: ['decode', 'ceiling', 'bit-depth', 'header'],
    },
  ])('$name', ({ change, want }) => {
    const recipe = recipes(font({ 'clash-01.wav': change }))['clash-01.wav']
    expect(steps(recipe)).toEqual(want)
    for (const step of recipe?.steps ?? []) expect(step.reason).not.toBe('')
  })

  test('of channels that cancel keeps one, and says so', () => {
    const left = burst(4, 0.3)
    const recipe = recipes(font({ 'clash-01.wav': wave([left, left.map((sample) => -sample)]) }))[
      'clash-01.wav'
    ]
    expect(recipe?.steps[1]?.action).toMatchObject({ do: 'channels', how: 'keep', kept: 0 })
    expect(recipe?.told[0]).toMatch(/cancel/)
  })

  test('of a hum that clicks closes the loop with its numbers', () => {
    const cut = hum(0.15).subarray(0, RATE + 60)
    const recipe = recipes(font({ 'hum.wav': wave(cut) }))['hum.wav']
    expect(steps(recipe)).toContain('repair-seam')
    const seam = recipe?.steps.find(({ action }) => action.do === 'repair-seam')
    expect(seam?.reason).toMatch(/jumps/)
    expect(seam?.action).toMatchObject({ do: 'repair-seam', crossfadeFrames: 1323 })
  })

  test('of a font that is too quiet raises everything by one gain', () => {
    const chosen = recipes(font({ 'hum.wav': wave(hum(0.04)) }))
    const gains = Object.values(chosen).map(({ steps }) => {
      const gain = steps.find(({ action }) => action.do === 'gain')?.action
      return gain?.do === 'gain' ? gain.gainDb : null
    })
    expect(new Set(gains).size).toBe(1)
    expect(gains[0]).toBeGreaterThan(5)
  })

  test('takes out what the speaker cannot give, where most of a sound lies below it', () => {
    const rumble = sine(RATE, 70, RATE, 0.3).map((sample, frame) => sample * Math.exp(-frame / 20_000))
    const [chosen] = chosenFor([font({ 'clash-01.wav': wave(rumble) })], board, 250)
    const filtered = chosen?.recipes.filter(({ recipe }) => steps(recipe)?.includes('high-pass'))
    expect(filtered?.map(({ sound }) => sound.path)).toContain('clash-01.wav')
    const step = filtered
      ?.find(({ sound }) => sound.path === 'clash-01.wav')
      ?.recipe.steps.find(({ action }) => action.do === 'high-pass')
    expect(step?.action).toEqual({ do: 'high-pass', frequencyHz: 250, isLoop: false })
    expect(step?.rule).toBe('low-share')
    expect(filtered?.map(({ sound }) => sound.path)).not.toContain('swing-01.wav')
    expect(steps(recipes(font({ 'clash-01.wav': wave(rumble) }))['clash-01.wav'])).not.toContain('high-pass')
  })

  test('of layers that play together gives both one gain and no limiter', () => {
    const loud = font({
      'hum.wav': wave(hum(0.02)),
      'swing-low-01.wav': wave(hum(0.5)),
      'swing-high-01.wav': wave(hum(0.2)),
    })
    const chosen = recipes(loud)
    const pair = [chosen['swing-low-01.wav'], chosen['swing-high-01.wav']]
    expect(pair[0]).toBeDefined()
    const actions = pair.map((recipe) => recipe?.steps.map(({ action }) => action))
    expect(actions[0]).toEqual(actions[1])
    expect(steps(pair[0])).not.toContain('ceiling')
    expect(pair[0]?.told.join()).toMatch(/softer than the font's gain/)
  })
})

describe('what is done', () => {
  test('a hum lands within 0.1 LU of the middle of the band, below the ceiling', () => {
    const waves = font({ 'hum.wav': wave(hum(0.03)) })
    const [chosen] = chosenFor([waves], board)
    const levels = measured(doneWith(waves, chosen!)['hum.wav']!).levels
    expect(Math.abs((levels.integratedLufs ?? 0) + 22)).toBeLessThan(0.1)
    for (const [path, bytes] of Object.entries(doneWith(waves, chosen!))) {
      expect(measured(bytes).levels.truePeakDbtp, path).toBeLessThanOrEqual(-1)
    }
  })

  test('hums of a card come within its spread', () => {
    const fonts = [0.12, 0.155, 0.175].map((gain) => font({ 'hum.wav': wave(hum(gain)) }))
    const chosen = chosenFor(fonts, board)
    const levels = fonts.map((waves, index) => {
      return measured(doneWith(waves, chosen[index]!)['hum.wav']!).levels.integratedLufs ?? 0
    })
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThanOrEqual(1)
    expect(chosen.some(({ gain }) => gain === null)).toBe(true)
  })

  test('hums are evened within the usual 1 LU where nobody knows what the board stands', () => {
    const silent = { ...board, levels: { ...board.levels, hum: null, spreadLu: null } }
    const open = { ...silent, known: { 'levels.spreadLu': 'unknown' as const } }
    const none = { ...silent, known: {} }
    const fonts = [0.1, 0.16, 0.2].map((gain) => font({ 'hum.wav': wave(hum(gain)) }))
    expect(spreadToHold(open)).toBe(1)
    const levels = chosenFor(fonts, open).map(({ humLufs, gain }) => (humLufs ?? 0) + (gain?.gainDb ?? 0))
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThanOrEqual(1)
    expect(chosenFor(fonts, none).map(({ gain }) => gain)).toEqual([null, null, null])
  })

  test('two hums that measure equal are evened by what the speaker gives', () => {
    const low = font({ 'hum.wav': wave(sine(RATE, 60, 2 * RATE, 0.22)) })
    const high = font({ 'hum.wav': wave(sine(RATE, 1000, 2 * RATE, 0.11)) })
    const [first, second] = chosenFor([low, high], board, 250)
    expect(first?.humLufs).toBeLessThan((second?.humLufs ?? 0) - 10)
    expect(first?.gain?.gainDb ?? 0).toBeGreaterThan((second?.gain?.gainDb ?? 0) + 10)
  })
})

describe('preparing what was prepared', () => {
  const odd = fc.record({
    humGain: fc.double({ min: 0.01, max: 0.5, noNaN: true }),
    humSeconds: fc.constantFrom(0.5, 1, 1.37),
    humCut: fc.integer({ min: 0, max: 400 }),
    dc: fc.constantFrom(0, 0, 0.03, -0.2),
    effectGain: fc.double({ min: 0.02, max: 0.999, noNaN: true }),
    late: fc.constantFrom(0, 0, 5000),
    bits: fc.constantFrom<16 | 24 | 8>(16, 24, 8),
    isStereo: fc.boolean(),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })

  test('changes nothing, even where no record says that it was', () => {
    fc.assert(
      fc.property(odd, (given) => {
        const { seed, bits } = given
        const clash = burst(seed, given.effectGain).map((sample) => sample + given.dc)
        const late = Float64Array.from([...new Float64Array(given.late), ...clash])
        const turning = hum(given.humGain, 2).subarray(0, Math.round(RATE * given.humSeconds) + given.humCut)
        const waves = font({
          'hum.wav': wave(given.isStereo ? [turning, turning] : turning, { bits }),
          'clash-01.wav': wave(late, { bits }),
        })
        const [first] = chosenFor([waves], board)
        const once = doneWith(waves, first!)
        const [second] = chosenFor([once], board)
        const again = second!.recipes.flatMap(({ sound, recipe }) =>
          recipe.steps
            // A font that was made softer can have longer silence by the letter: the one thing left.
            .filter(({ rule }) => rule !== 'trailing-silence')
            .map(({ action, reason }) => `${sound.path} ${JSON.stringify(action)} ${reason}`),
        )
        expect(again).toEqual([])
      }),
      { numRuns: 12, endOnFailure: true },
    )
  })
})

describe('one gain a font', () => {
  const levels = { ...board.levels, hum: { lowestLufs: -24, highestLufs: -20 }, spreadLu: 1 }
  const hums = fc.array(fc.double({ min: -50, max: -5, noNaN: true }), { minLength: 1, maxLength: 3 })

  test('puts every font in the band and even, and then rests', () => {
    fc.assert(
      fc.property(fc.array(hums, { minLength: 1, maxLength: 6 }), (fonts) => {
        const named = fonts.map((levelsLufs, index) => ({
          editionId: `${index}`,
          name: `F${index}`,
          levelsLufs,
        }))
        const { gains, told } = fontGains(named, levels)
        const after = named.map((each) => {
          const gainDb = gains.get(each.editionId)?.gainDb ?? 0
          return { ...each, levelsLufs: each.levelsLufs.map((level) => level + gainDb) }
        })
        const free = after.filter(({ editionId, levelsLufs }) => {
          return !told.has(editionId) && Math.max(...levelsLufs) - Math.min(...levelsLufs) <= 1.5
        })
        for (const { levelsLufs } of free) {
          expect(Math.min(...levelsLufs)).toBeGreaterThanOrEqual(-24)
          expect(Math.max(...levelsLufs)).toBeLessThanOrEqual(-20)
        }
        const tops = free.map(({ levelsLufs }) => Math.max(...levelsLufs))
        if (tops.length > 1) expect(Math.max(...tops) - Math.min(...tops)).toBeLessThanOrEqual(1.01)
        const single = after.filter(
          ({ levelsLufs, editionId }) => levelsLufs.length === 1 && !told.has(editionId),
        )
        expect([...fontGains(single, levels).gains]).toEqual([])
      }),
    )
  })

  test('does not raise a recording by more than its noise allows, and says so', () => {
    const { gains, told } = fontGains([{ editionId: 'e', name: 'Faint', levelsLufs: [-60] }], levels)
    expect(gains.get('e')?.gainDb).toBe(20)
    expect(told.get('e')).toMatch(/38\.0 dB more/)
  })

  test('does not raise music by more than that either, however soft it is, and says so', () => {
    const [chosen] = chosenFor([font({ 'music.wav': wave(hum(0.0008, 4)) })], board)
    const recipe = chosen!.recipes.find(({ sound }) => sound.path === 'music.wav')!.recipe
    const gains = recipe.steps.flatMap(({ action }) => (action.do === 'gain' ? [action] : []))
    expect(gains).toEqual([{ do: 'gain', gainDb: 20 }])
    expect(recipe.told).toEqual([
      expect.stringMatching(
        /^It would need [34]\d\.\d dB more; it is raised by 20 dB, since its noise rises with it\.$/,
      ),
    ])
  })

  test('leaves a font that has no hum alone', () => {
    expect(fontGains([{ editionId: 'e', name: 'Hushed', levelsLufs: [] }], levels).gains.size).toBe(0)
  })
})

test('what the board says nothing about is left alone', () => {
  const silentBoard = boardLikeBench44(
    'levels: { hum: null, effects: null, music: null, ceilingDbtp: null, spreadLu: null }',
  )
  const chosen = recipes(
    font({ 'hum.wav': wave(hum(0.6)), 'clash-01.wav': wave(burst(1, 0.999)) }),
    silentBoard,
  )
  for (const recipe of Object.values(chosen)) expect(recipe.steps).toEqual([])
})

test('a level that much limiting will change is not foreseen; where little or nothing is limited, it is', () => {
  const waves = font({
    'hum.wav': wave(hum(0.03)),
    'clash-01.wav': wave(burst(1, 0.9)),
    'swing-01.wav': wave(burst(3, 0.05)),
  })
  const [chosen] = chosenFor([waves], board)
  const of = (path: string) => chosen!.recipes.find(({ sound }) => sound.path === path)!
  expect(steps(of('clash-01.wav').recipe)).toContain('ceiling')
  expect(of('clash-01.wav').levelLufs).toBeNull()
  const swing = of('swing-01.wav')
  expect(chosen!.gain!.gainDb).toBeGreaterThan(10)
  expect(swing.levelLufs).toBeCloseTo(
    swing.sound.measures!.levels.momentaryMaxLufs! + chosen!.gain!.gainDb,
    1,
  )
})
