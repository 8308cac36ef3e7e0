import {
  S_CUT1,
  S_CUT2,
  S_CUT_ENERGY,
  S_HOP_ENERGY,
  S_HOP_LOUDNESS,
  S_PASSED1,
  S_PASSED2,
  S_SUM,
  S_WEIGHTED1,
  S_WEIGHTED2,
  S_X1,
  S_X2,
  samplesOf,
  stateOf,
} from './layout'

// Coefficients, set for each sound.
let passA1: f64 = 0
let passA2: f64 = 0
let shelfB0: f64 = 0
let shelfB1: f64 = 0
let shelfB2: f64 = 0
let shelfA1: f64 = 0
let shelfA2: f64 = 0
let cutA1: f64 = 0
let cutA2: f64 = 0

export function setFilters(
  weightingA1: f64,
  weightingA2: f64,
  b0: f64,
  b1: f64,
  b2: f64,
  a1: f64,
  a2: f64,
  lowCutA1: f64,
  lowCutA2: f64,
): void {
  passA1 = weightingA1
  passA2 = weightingA2
  shelfB0 = b0
  shelfB1 = b1
  shelfB2 = b2
  shelfA1 = a1
  shelfA2 = a2
  cutA1 = lowCutA1
  cutA2 = lowCutA2
}

/**
 * Frames `from` to `to` of one channel through all filters. The two high-passes have the same
 * numerator, the second difference of the samples, and run side by side: the K-weighting's in the
 * first lane, the low-cut in the second.
 */
export function filterOne(channel: i32, from: i32, to: i32): void {
  const state = stateOf(channel)
  const a1 = f64x2.replace_lane(f64x2.splat(passA1), 1, cutA1)
  const a2 = f64x2.replace_lane(f64x2.splat(passA2), 1, cutA2)
  const b0 = shelfB0
  const b1 = shelfB1
  const b2 = shelfB2
  const c1 = shelfA1
  const c2 = shelfA2
  let x1 = load<f64>(state + S_X1)
  let x2 = load<f64>(state + S_X2)
  let y1 = f64x2.replace_lane(f64x2.splat(load<f64>(state + S_PASSED1)), 1, load<f64>(state + S_CUT1))
  let y2 = f64x2.replace_lane(f64x2.splat(load<f64>(state + S_PASSED2)), 1, load<f64>(state + S_CUT2))
  let w1 = load<f64>(state + S_WEIGHTED1)
  let w2 = load<f64>(state + S_WEIGHTED2)
  let energies = f64x2.splat(0)
  let loudness: f64 = 0
  let squares: f64 = 0
  let sum: f64 = 0
  let at = samplesOf(channel) + (from << 2)
  const end = samplesOf(channel) + (to << 2)
  let passed1 = f64x2.extract_lane(y1, 0)
  let passed2 = f64x2.extract_lane(y2, 0)
  for (; at < end; at += 4) {
    const x = <f64>load<f32>(at)
    const bend = f64x2.splat(x - (x1 + x1) + x2)
    x2 = x1
    x1 = x
    sum += x
    squares += x * x
    const y = f64x2.sub(f64x2.sub(bend, f64x2.mul(a2, y2)), f64x2.mul(a1, y1))
    y2 = y1
    y1 = y
    energies = f64x2.add(energies, f64x2.mul(y, y))
    const passed = f64x2.extract_lane(y, 0)
    const w = b0 * passed + b1 * passed1 + b2 * passed2 - c2 * w2 - c1 * w1
    passed2 = passed1
    passed1 = passed
    w2 = w1
    w1 = w
    loudness += w * w
  }
  store<f64>(state + S_X1, x1)
  store<f64>(state + S_X2, x2)
  store<f64>(state + S_PASSED1, f64x2.extract_lane(y1, 0))
  store<f64>(state + S_PASSED2, f64x2.extract_lane(y2, 0))
  store<f64>(state + S_CUT1, f64x2.extract_lane(y1, 1))
  store<f64>(state + S_CUT2, f64x2.extract_lane(y2, 1))
  store<f64>(state + S_WEIGHTED1, w1)
  store<f64>(state + S_WEIGHTED2, w2)
  store<f64>(state + S_SUM, load<f64>(state + S_SUM) + sum)
  store<f64>(state + S_HOP_ENERGY, load<f64>(state + S_HOP_ENERGY) + squares)
  store<f64>(state + S_HOP_LOUDNESS, load<f64>(state + S_HOP_LOUDNESS) + loudness)
  store<f64>(state + S_CUT_ENERGY, load<f64>(state + S_CUT_ENERGY) + f64x2.extract_lane(energies, 1))
}

@inline
function pair(first: usize, second: usize, what: usize): v128 {
  return f64x2.replace_lane(f64x2.splat(load<f64>(first + what)), 1, load<f64>(second + what))
}

@inline
function putPair(first: usize, second: usize, what: usize, value: v128): void {
  store<f64>(first + what, f64x2.extract_lane(value, 0))
  store<f64>(second + what, f64x2.extract_lane(value, 1))
}

@inline
function addPair(first: usize, second: usize, what: usize, value: v128): void {
  putPair(first, second, what, f64x2.add(pair(first, second, what), value))
}

/** The same for two channels at once, one in each lane. */
export function filterTwo(channel: i32, from: i32, to: i32): void {
  const first = stateOf(channel)
  const second = stateOf(channel + 1)
  const pa1 = f64x2.splat(passA1)
  const pa2 = f64x2.splat(passA2)
  const b0 = f64x2.splat(shelfB0)
  const b1 = f64x2.splat(shelfB1)
  const b2 = f64x2.splat(shelfB2)
  const sa1 = f64x2.splat(shelfA1)
  const sa2 = f64x2.splat(shelfA2)
  const ca1 = f64x2.splat(cutA1)
  const ca2 = f64x2.splat(cutA2)
  let x1 = pair(first, second, S_X1)
  let x2 = pair(first, second, S_X2)
  let p1 = pair(first, second, S_PASSED1)
  let p2 = pair(first, second, S_PASSED2)
  let w1 = pair(first, second, S_WEIGHTED1)
  let w2 = pair(first, second, S_WEIGHTED2)
  let c1 = pair(first, second, S_CUT1)
  let c2 = pair(first, second, S_CUT2)
  let loudness = f64x2.splat(0)
  let squares = f64x2.splat(0)
  let sum = f64x2.splat(0)
  let cutEnergy = f64x2.splat(0)
  const other = samplesOf(channel + 1) - samplesOf(channel)
  let at = samplesOf(channel) + (from << 2)
  const end = samplesOf(channel) + (to << 2)
  for (; at < end; at += 4) {
    const x = f64x2.promote_low_f32x4(v128.load32_lane(at + other, v128.load32_zero(at), 1))
    const bend = f64x2.add(f64x2.sub(x, f64x2.add(x1, x1)), x2)
    x2 = x1
    x1 = x
    sum = f64x2.add(sum, x)
    squares = f64x2.add(squares, f64x2.mul(x, x))
    const p = f64x2.sub(f64x2.sub(bend, f64x2.mul(pa2, p2)), f64x2.mul(pa1, p1))
    const c = f64x2.sub(f64x2.sub(bend, f64x2.mul(ca2, c2)), f64x2.mul(ca1, c1))
    c2 = c1
    c1 = c
    cutEnergy = f64x2.add(cutEnergy, f64x2.mul(c, c))
    const ahead = f64x2.add(f64x2.add(f64x2.mul(b0, p), f64x2.mul(b1, p1)), f64x2.mul(b2, p2))
    const w = f64x2.sub(f64x2.sub(ahead, f64x2.mul(sa2, w2)), f64x2.mul(sa1, w1))
    p2 = p1
    p1 = p
    w2 = w1
    w1 = w
    loudness = f64x2.add(loudness, f64x2.mul(w, w))
  }
  putPair(first, second, S_X1, x1)
  putPair(first, second, S_X2, x2)
  putPair(first, second, S_PASSED1, p1)
  putPair(first, second, S_PASSED2, p2)
  putPair(first, second, S_WEIGHTED1, w1)
  putPair(first, second, S_WEIGHTED2, w2)
  putPair(first, second, S_CUT1, c1)
  putPair(first, second, S_CUT2, c2)
  addPair(first, second, S_SUM, sum)
  addPair(first, second, S_HOP_ENERGY, squares)
  addPair(first, second, S_HOP_LOUDNESS, loudness)
  addPair(first, second, S_CUT_ENERGY, cutEnergy)
}
