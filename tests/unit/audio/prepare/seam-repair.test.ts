import { expect, test } from 'vitest'
import { readAll } from '../../../../app/audio/prepare/sample-source.ts'
import { findSeam, withRepairedSeam } from '../../../../app/audio/prepare/seam-repair.ts'
import { noise, samplesOf, sound } from '../../../support/prepare-by-recipe.ts'

const RATE = 44_100

function hum(frames: number): Float64Array {
  const rough = noise(frames, 5)
  return samplesOf(frames, (frame) => {
    const turn = (2 * Math.PI * frame) / RATE
    return 0.3 * Math.sin(93.7 * turn) + 0.1 * Math.sin(281.1 * turn + 1) + 0.01 * (rough[frame] ?? 0)
  })
}

/** Jump over the seam against the 99th percentile of all steps: how a seam is measured. */
function jumpRatio(samples: Float64Array): number {
  const steps = samplesOf(samples.length - 1, (at) =>
    Math.abs((samples[at + 1] ?? 0) - (samples[at] ?? 0)),
  ).sort()
  return Math.abs((samples[0] ?? 0) - (samples.at(-1) ?? 0)) / (steps[Math.floor(steps.length * 0.99)] ?? 1)
}

const level = (samples: Float64Array) =>
  10 * Math.log10(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)

test('a hum cut anywhere meets itself again, at its own level', () => {
  // A cut that jumps by more than ten usual steps.
  const cut = hum(2 * RATE + 117)
  expect(jumpRatio(cut)).toBeGreaterThan(5)
  const repair = findSeam([sound(cut)])
  expect(repair?.correlation).toBeGreaterThan(0.95)
  const [mended = cut] = readAll(withRepairedSeam(sound(cut), repair!))
  expect(jumpRatio(mended)).toBeLessThan(1.5)
  const edge = RATE / 100
  expect(Math.abs(level(mended.subarray(mended.length - 4 * edge)) - level(cut))).toBeLessThan(1)
})

test('a hum that fades at both ends loses the fades', () => {
  const fade = 0.12 * RATE
  const frames = 2 * RATE
  const faded = hum(frames).map(
    (sample, frame) => sample * Math.min(1, frame / fade, (frames - frame) / fade),
  )
  const repair = findSeam([sound(faded)])
  const [mended = faded] = readAll(withRepairedSeam(sound(faded), repair!))
  const edge = RATE / 50
  expect(level(mended.subarray(0, edge)) - level(mended)).toBeGreaterThan(-4)
  expect(level(mended.subarray(mended.length - edge)) - level(mended)).toBeGreaterThan(-4)
  expect(mended.length).toBeGreaterThan(frames / 2)
})

test('unlike ends keep their power through the blend', () => {
  const rough = noise(RATE, 77).map((sample) => sample * 0.4)
  const repair = findSeam([sound(rough)])!
  const [mended = rough] = readAll(withRepairedSeam(sound(rough), repair))
  const blend = mended.subarray(mended.length - repair.crossfadeFrames)
  expect(Math.abs(level(blend) - level(rough))).toBeLessThan(0.7)
})

test('layers that play together get one answer and stay equally long', () => {
  const low = hum(RATE + 31)
  const high = noise(RATE + 31, 3).map((sample) => sample * 0.2)
  const repair = findSeam([sound(low), sound(high)])!
  const lengths = [low, high].map((samples) => withRepairedSeam(sound(samples), repair).frames)
  expect(lengths[0]).toBe(lengths[1])
})

test('reading in pieces gives what reading at once gives', () => {
  const source = withRepairedSeam(sound(hum(RATE)), findSeam([sound(hum(RATE))])!)
  const [whole = new Float64Array()] = readAll(source)
  const piece = new Float64Array(3000)
  source.read(source.frames - 2500, 3000, [piece])
  expect(piece.subarray(0, 2500)).toEqual(whole.subarray(source.frames - 2500))
  expect(piece.subarray(2500).every((sample) => sample === 0)).toBe(true)
})

test('what is too short to have a seam is left alone', () => {
  expect(findSeam([sound(hum(40))])).toBeUndefined()
  expect(findSeam([])).toBeUndefined()
})
