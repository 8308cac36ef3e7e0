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
 * A second-order recursion y[n] = e[n] - a1 y[n-1] - a2 y[n-2] for two samples at once, by putting
 * the first into the second: exact, and half the wait for each result. `own` and `other` are what
 * the pair gets from y in its own lane and in the other one of the last pair; `ahead` gives the second
 * lane -a1 times the first lane's input. Written with lanes swapped instead of spread: shuffles are
 * what processors have fewest units for.
 */
@inline
function recurse(e: v128, swappedE: v128, ahead: v128, last: v128, own: v128, other: v128): v128 {
  return fused(other, swapped(last), fused(own, last, fused(ahead, swappedE, e)))
}

@inline
function swapped(value: v128): v128 {
  return v128.shuffle<i64>(value, value, 1, 0)
}

/** a * b + c. Processors that can round it once; the difference is far below what a level shows. */
@inline
function fused(a: v128, b: v128, c: v128): v128 {
  return f64x2.relaxed_madd(a, b, c)
}

/** c - a * b. */
@inline
function fusedOff(a: v128, b: v128, c: v128): v128 {
  return f64x2.relaxed_nmadd(a, b, c)
}

@inline
function lanes(first: f64, second: f64): v128 {
  return f64x2.replace_lane(f64x2.splat(first), 1, second)
}

/** The last sample of one pair and the first of the next. */
@inline
function between(before: v128, now: v128): v128 {
  return v128.shuffle<i64>(before, now, 1, 2)
}

/**
 * Frames `from` to `to` of one channel through all filters, two samples at a time. The two high-passes
 * have the same numerator, the second difference of the samples.
 */
export function filterOne(channel: i32, from: i32, to: i32): void {
  const pairs = (to - from) & ~1
  filterPairs(channel, from, from + pairs)
  if (from + pairs < to) filterLast(channel, from + pairs)
}

function filterPairs(channel: i32, from: i32, to: i32): void {
  const state = stateOf(channel)
  const passAhead = lanes(0, -passA1)
  const passOwn = lanes(-passA2, passA1 * passA1 - passA2)
  const passOther = lanes(-passA1, passA1 * passA2)
  const cutAhead = lanes(0, -cutA1)
  const cutOwn = lanes(-cutA2, cutA1 * cutA1 - cutA2)
  const cutOther = lanes(-cutA1, cutA1 * cutA2)
  const shelfAhead = lanes(0, -shelfA1)
  const shelfOwn = lanes(-shelfA2, shelfA1 * shelfA1 - shelfA2)
  const shelfOther = lanes(-shelfA1, shelfA1 * shelfA2)
  const b0 = f64x2.splat(shelfB0)
  const b1 = f64x2.splat(shelfB1)
  const b2 = f64x2.splat(shelfB2)
  let x = lanes(load<f64>(state + S_X2), load<f64>(state + S_X1))
  let passed = lanes(load<f64>(state + S_PASSED2), load<f64>(state + S_PASSED1))
  let weighted = lanes(load<f64>(state + S_WEIGHTED2), load<f64>(state + S_WEIGHTED1))
  let cut = lanes(load<f64>(state + S_CUT2), load<f64>(state + S_CUT1))
  let loudness = f64x2.splat(0)
  let squares = f64x2.splat(0)
  let sum = f64x2.splat(0)
  let cutEnergy = f64x2.splat(0)
  let at = samplesOf(channel) + (from << 2)
  const end = samplesOf(channel) + (to << 2)
  for (; at < end; at += 8) {
    const now = f64x2.promote_low_f32x4(v128.load64_zero(at))
    const middle = between(x, now)
    const bend = f64x2.add(f64x2.sub(now, f64x2.add(middle, middle)), x)
    x = now
    sum = f64x2.add(sum, now)
    squares = fused(now, now, squares)
    const swappedBend = swapped(bend)
    const nowPassed = recurse(bend, swappedBend, passAhead, passed, passOwn, passOther)
    cut = recurse(bend, swappedBend, cutAhead, cut, cutOwn, cutOther)
    cutEnergy = fused(cut, cut, cutEnergy)
    const shaped = fused(b0, nowPassed, fused(b1, between(passed, nowPassed), f64x2.mul(b2, passed)))
    passed = nowPassed
    weighted = recurse(shaped, swapped(shaped), shelfAhead, weighted, shelfOwn, shelfOther)
    loudness = fused(weighted, weighted, loudness)
  }
  store<f64>(state + S_X2, f64x2.extract_lane(x, 0))
  store<f64>(state + S_X1, f64x2.extract_lane(x, 1))
  store<f64>(state + S_PASSED2, f64x2.extract_lane(passed, 0))
  store<f64>(state + S_PASSED1, f64x2.extract_lane(passed, 1))
  store<f64>(state + S_WEIGHTED2, f64x2.extract_lane(weighted, 0))
  store<f64>(state + S_WEIGHTED1, f64x2.extract_lane(weighted, 1))
  store<f64>(state + S_CUT2, f64x2.extract_lane(cut, 0))
  store<f64>(state + S_CUT1, f64x2.extract_lane(cut, 1))
  addTo(state + S_SUM, both(sum))
  addTo(state + S_HOP_ENERGY, both(squares))
  addTo(state + S_HOP_LOUDNESS, both(loudness))
  addTo(state + S_CUT_ENERGY, both(cutEnergy))
}

@inline
function both(value: v128): f64 {
  return f64x2.extract_lane(value, 0) + f64x2.extract_lane(value, 1)
}

@inline
function addTo(at: usize, value: f64): void {
  store<f64>(at, load<f64>(at) + value)
}

/** One sample that makes no pair. */
function filterLast(channel: i32, index: i32): void {
  const state = stateOf(channel)
  const x = <f64>load<f32>(samplesOf(channel) + (index << 2))
  const x1 = load<f64>(state + S_X1)
  const bend = x - 2 * x1 + load<f64>(state + S_X2)
  const p1 = load<f64>(state + S_PASSED1)
  const p2 = load<f64>(state + S_PASSED2)
  const w1 = load<f64>(state + S_WEIGHTED1)
  const c1 = load<f64>(state + S_CUT1)
  const passed = bend - passA1 * p1 - passA2 * p2
  const shaped = shelfB0 * passed + shelfB1 * p1 + shelfB2 * p2
  const weighted = shaped - shelfA1 * w1 - shelfA2 * load<f64>(state + S_WEIGHTED2)
  const cut = bend - cutA1 * c1 - cutA2 * load<f64>(state + S_CUT2)
  store<f64>(state + S_X2, x1)
  store<f64>(state + S_X1, x)
  store<f64>(state + S_PASSED2, p1)
  store<f64>(state + S_PASSED1, passed)
  store<f64>(state + S_WEIGHTED2, w1)
  store<f64>(state + S_WEIGHTED1, weighted)
  store<f64>(state + S_CUT2, c1)
  store<f64>(state + S_CUT1, cut)
  addTo(state + S_SUM, x)
  addTo(state + S_HOP_ENERGY, x * x)
  addTo(state + S_HOP_LOUDNESS, weighted * weighted)
  addTo(state + S_CUT_ENERGY, cut * cut)
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
    squares = fused(x, x, squares)
    const p = fusedOff(pa1, p1, fusedOff(pa2, p2, bend))
    const c = fusedOff(ca1, c1, fusedOff(ca2, c2, bend))
    c2 = c1
    c1 = c
    cutEnergy = fused(c, c, cutEnergy)
    const ahead = fused(b0, p, fused(b1, p1, f64x2.mul(b2, p2)))
    const w = fusedOff(sa1, w1, fusedOff(sa2, w2, ahead))
    p2 = p1
    p1 = p
    w2 = w1
    w1 = w
    loudness = fused(w, w, loudness)
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
