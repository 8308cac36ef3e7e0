import {
  AT_BIN_HIGHEST,
  AT_BIN_LOWEST,
  AT_STEP_COUNTS,
  ENVELOPE_FRAMES,
  S_CLIPPED_ROW,
  S_CLIPPED_RUNS,
  S_SAMPLE_PEAK,
  STEP_CLASSES,
  samplesOf,
  stateOf,
} from './layout'

/** Class of a step of 2^-26, the lowest that is told from 0: 1024 classes an octave. */
const FIRST_CLASS: i32 = (127 - 26) << 10

/**
 * Lowest and highest sample of each bin of a block of one channel, joined with what the channels
 * before it gave; and the runs at full scale, which are looked for only in bins that reach it.
 */
export function envelope(channel: i32, frames: i32, firstBin: i32, fullScale: f32): void {
  const state = stateOf(channel)
  const samples = samplesOf(channel)
  let loudest = <f32>load<f64>(state + S_SAMPLE_PEAK)
  for (let from = 0, bin = firstBin; from < frames; from += ENVELOPE_FRAMES, bin++) {
    const to = min(from + ENVELOPE_FRAMES, frames)
    let lows = f32x4.splat(Infinity)
    let highs = f32x4.splat(-Infinity)
    let index = from
    for (; index + 4 <= to; index += 4) {
      const four = v128.load(samples + (index << 2))
      lows = f32x4.pmin(lows, four)
      highs = f32x4.pmax(highs, four)
    }
    let low = min(
      min(f32x4.extract_lane(lows, 0), f32x4.extract_lane(lows, 1)),
      min(f32x4.extract_lane(lows, 2), f32x4.extract_lane(lows, 3)),
    )
    let high = max(
      max(f32x4.extract_lane(highs, 0), f32x4.extract_lane(highs, 1)),
      max(f32x4.extract_lane(highs, 2), f32x4.extract_lane(highs, 3)),
    )
    for (; index < to; index++) {
      const sample = load<f32>(samples + (index << 2))
      low = min(low, sample)
      high = max(high, sample)
    }
    loudest = max(loudest, max(high, -low))
    if (high >= fullScale || low <= -1) countClipping(state, samples, from, to, fullScale)
    else store<i32>(state + S_CLIPPED_ROW, 0)
    const at = bin << 2
    if (channel > 0) {
      low = min(low, load<f32>(AT_BIN_LOWEST + at))
      high = max(high, load<f32>(AT_BIN_HIGHEST + at))
    }
    store<f32>(AT_BIN_LOWEST + at, low)
    store<f32>(AT_BIN_HIGHEST + at, high)
  }
  store<f64>(state + S_SAMPLE_PEAK, loudest)
}

function countClipping(state: usize, samples: usize, from: i32, to: i32, fullScale: f32): void {
  let row = load<i32>(state + S_CLIPPED_ROW)
  let runs = load<i32>(state + S_CLIPPED_RUNS)
  for (let index = from; index < to; index++) {
    const sample = load<f32>(samples + (index << 2))
    row = sample >= fullScale || sample <= -1 ? row + 1 : 0
    if (row == 3) runs++
  }
  store<i32>(state + S_CLIPPED_ROW, row)
  store<i32>(state + S_CLIPPED_RUNS, runs)
}

/** Counts the steps from each sample to the next in their classes; `from` 1 leaves out the first. */
export function countSteps(channel: i32, from: i32, frames: i32): void {
  const samples = samplesOf(channel)
  const counts = AT_STEP_COUNTS + channel * STEP_CLASSES * 4
  const first = i32x4.splat(FIRST_CLASS)
  const last = i32x4.splat(STEP_CLASSES - 1)
  const zero = i32x4.splat(0)
  let index = from
  for (; index + 4 <= frames; index += 4) {
    const at = samples + (index << 2)
    const steps = f32x4.abs(f32x4.sub(v128.load(at), v128.load(at - 4)))
    const places = i32x4.min_s(i32x4.max_s(i32x4.sub(i32x4.shr_u(steps, 13), first), zero), last)
    countOne(counts, i32x4.extract_lane(places, 0))
    countOne(counts, i32x4.extract_lane(places, 1))
    countOne(counts, i32x4.extract_lane(places, 2))
    countOne(counts, i32x4.extract_lane(places, 3))
  }
  for (; index < frames; index++) {
    const at = samples + (index << 2)
    const step = abs(load<f32>(at) - load<f32>(at - 4))
    const place = <i32>(reinterpret<u32>(step) >>> 13) - FIRST_CLASS
    countOne(counts, min(max(place, 0), STEP_CLASSES - 1))
  }
}

@inline
function countOne(counts: usize, place: i32): void {
  const at = counts + (place << 2)
  store<u32>(at, load<u32>(at) + 1)
}
