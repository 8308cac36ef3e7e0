import {
  AT_CHUNK_BEND,
  AT_CHUNK_BOUND,
  AT_CHUNK_LOUDEST,
  AT_COARSE_READINGS,
  AT_COARSE_TAPS,
  AT_FINE_TAPS,
  AT_PLANES,
  COARSE_TAPS,
  FINE_TAPS,
  GROUP,
  PLANE,
  REACH,
  S_TRUE_PEAK,
  stateOf,
} from './layout'

/** 2 dB. */
const CANDIDATE_RATIO: f64 = 0.7943282347242815
/** Bounds are worked out in 32-bit floats; this much more covers their rounding. */
const BOUND_MARGIN: f32 = 1.00002
const READINGS: i32 = GROUP + 8

/** What a fine reading can add to the loudest sample beside it, by the bend of the samples around. */
let bendGain: f32 = 0
/** And by the loudest sample around: what the filter's rounding and its ends leave over. */
let restGain: f32 = 0
/** Off only in tests that hold the search without skipping against the one with it. */
let isSkipping: bool = true

export function setPeakBounds(bend: f64, rest: f64): void {
  bendGain = <f32>bend
  restGain = <f32>rest
}

export function setSkipping(on: bool): void {
  isSkipping = on
}

/**
 * Searches `frames` places of one channel, which lie REACH behind its newest sample, and moves what
 * the next block needs to the front of the plane.
 */
export function searchPeak(channel: i32, frames: i32): void {
  const plane = AT_PLANES + channel * PLANE
  const state = stateOf(channel)
  const length = 2 * REACH + frames
  surveyChunks(plane, length)
  boundChunks((length + GROUP - 1) / GROUP)
  let peak = load<f64>(state + S_TRUE_PEAK)
  for (let from = REACH; from < REACH + frames; from += GROUP) {
    const bound = load<f32>(AT_CHUNK_BOUND + ((from / GROUP) << 2))
    if (isSkipping && <f64>bound <= peak) continue
    peak = searchGroup(plane, from, min(from + GROUP, REACH + frames), peak)
  }
  store<f64>(state + S_TRUE_PEAK, peak)
  memory.copy(plane, plane + (frames << 2), 8 * REACH)
}

/**
 * Of each chunk of GROUP samples the loudest, those right beside the chunk included, and the sharpest
 * bend (second difference). Largest values are taken in vectors throughout: the scalar maximum of
 * WebAssembly minds what is no number, and costs ten times as much.
 */
function surveyChunks(plane: usize, length: i32): void {
  let chunk = 0
  for (let from = 0; from < length; from += GROUP, chunk++) {
    const start = plane + (from << 2)
    let here = v128.load(start)
    // Before the first chunk lies another channel; no place of it is searched.
    let loudest = f32x4.pmax(f32x4.abs(v128.load(start - 16)), f32x4.abs(v128.load(start + (GROUP << 2))))
    let bend = f32x4.splat(0)
    for (let at = start; at < start + (GROUP << 2); at += 16) {
      const ahead = v128.load(at + 4)
      const twice = v128.load(at + 8)
      loudest = f32x4.pmax(loudest, f32x4.abs(here))
      bend = f32x4.pmax(bend, f32x4.abs(f32x4.add(f32x4.sub(here, f32x4.add(ahead, ahead)), twice)))
      here = v128.load(at + 16)
    }
    store<f32>(AT_CHUNK_LOUDEST + (chunk << 2), largest(loudest))
    store<f32>(AT_CHUNK_BEND + (chunk << 2), largest(bend))
  }
}

@inline
function largest(four: v128): f32 {
  const two = f32x4.pmax(four, v128.shuffle<i32>(four, four, 2, 3, 0, 1))
  return f32x4.extract_lane(f32x4.pmax(two, v128.shuffle<i32>(two, two, 1, 0, 3, 2)), 0)
}

/**
 * Of each chunk what no fine reading in it, nor a parabola through three of them, can exceed: a
 * reading is the straight line between its two samples and a weighted sum of second differences,
 * which lie at most three chunks away.
 */
function boundChunks(chunks: i32): void {
  const bends = f32x4.splat(bendGain)
  const rests = f32x4.splat(restGain)
  const margin = f32x4.splat(BOUND_MARGIN)
  for (let chunk = REACH / GROUP; chunk < chunks; chunk += 4) {
    const at = chunk << 2
    const beside = v128.load(AT_CHUNK_LOUDEST + at)
    let around = beside
    let bend = v128.load(AT_CHUNK_BEND + at)
    for (let away = 4; away <= 12; away += 4) {
      around = f32x4.pmax(around, v128.load(AT_CHUNK_LOUDEST + at - away))
      around = f32x4.pmax(around, v128.load(AT_CHUNK_LOUDEST + at + away))
      bend = f32x4.pmax(bend, v128.load(AT_CHUNK_BEND + at - away))
      bend = f32x4.pmax(bend, v128.load(AT_CHUNK_BEND + at + away))
    }
    const reach = f32x4.add(beside, f32x4.add(f32x4.mul(bends, bend), f32x4.mul(rests, around)))
    v128.store(AT_CHUNK_BOUND + at, f32x4.mul(reach, margin))
  }
}

/** Coarse readings of a group's places and its neighbours', then the fine ones of its candidates. */
function searchGroup(plane: usize, from: i32, to: i32, peak: f64): f64 {
  readCoarse(plane, from - 1)
  const limit = f32x4.splat(<f32>(peak * CANDIDATE_RATIO))
  for (let index = 0; index < READINGS - 4; index += 4) {
    const at = AT_COARSE_READINGS + (index << 2)
    const top = f32x4.pmax(
      f32x4.pmax(v128.load(at), v128.load(at + 4 * READINGS)),
      f32x4.pmax(v128.load(at + 8 * READINGS), v128.load(at + 12 * READINGS)),
    )
    if (!v128.any_true(f32x4.ge(top, limit))) continue
    for (let place = max(index, 1); place < index + 4; place++) {
      const sample = from - 1 + place
      if (sample < to) peak = searchPlace(plane, sample, place, peak)
    }
  }
  return peak
}

/** Absolute coarse readings of the places `first` on, a row a phase. */
function readCoarse(plane: usize, first: i32): void {
  for (let index = 0; index < READINGS - 4; index += 4) {
    const at = plane + ((first + index) << 2)
    let one = f32x4.splat(0)
    let two = f32x4.splat(0)
    let three = f32x4.splat(0)
    for (let tap = 0; tap < COARSE_TAPS; tap++) {
      const four = v128.load(at + ((tap - COARSE_TAPS / 2 + 1) << 2))
      const taps = AT_COARSE_TAPS + (tap << 2)
      one = f32x4.relaxed_madd(four, v128.load32_splat(taps), one)
      two = f32x4.relaxed_madd(four, v128.load32_splat(taps + 4 * COARSE_TAPS), two)
      three = f32x4.relaxed_madd(four, v128.load32_splat(taps + 8 * COARSE_TAPS), three)
    }
    const to = AT_COARSE_READINGS + (index << 2)
    v128.store(to, f32x4.abs(v128.load(at)))
    v128.store(to + 4 * READINGS, f32x4.abs(one))
    v128.store(to + 8 * READINGS, f32x4.abs(two))
    v128.store(to + 12 * READINGS, f32x4.abs(three))
  }
}

@inline
function coarse(place: i32, phase: i32): f32 {
  return load<f32>(AT_COARSE_READINGS + ((phase * READINGS + place) << 2))
}

function searchPlace(plane: usize, sample: i32, place: i32, peak: f64): f64 {
  let best: f32 = 0
  let phase = 0
  for (let candidate = 0; candidate < 4; candidate++) {
    const reading = coarse(place, candidate)
    if (reading > best) {
      best = reading
      phase = candidate
    }
  }
  if (best == 0 || <f64>best < peak * CANDIDATE_RATIO) return peak
  const before = phase == 0 ? coarse(place - 1, 3) : coarse(place, phase - 1)
  const ahead = phase == 3 ? coarse(place + 1, 0) : coarse(place, phase + 1)
  if (best < before || best < ahead) return peak
  return max(peak, refine(plane, sample * 4 + phase))
}

/** The largest of five fine readings, and of the parabola through it and its neighbours. */
function refine(plane: usize, quarter: i32): f64 {
  const r0 = fine(plane, quarter - 2)
  const r1 = fine(plane, quarter - 1)
  const r2 = fine(plane, quarter)
  const r3 = fine(plane, quarter + 1)
  const r4 = fine(plane, quarter + 2)
  const top = max(max(max(r0, r1), max(r2, r3)), r4)
  if (top == r0) return top
  if (top == r1) return vertex(r0, r1, r2)
  if (top == r2) return vertex(r1, r2, r3)
  if (top == r3) return vertex(r2, r3, r4)
  return top
}

function vertex(before: f64, top: f64, ahead: f64): f64 {
  const bend = 2 * top - before - ahead
  return bend > 0 ? top + ((ahead - before) * (ahead - before)) / (8 * bend) : top
}

function fine(plane: usize, quarter: i32): f64 {
  const sample = quarter >> 2
  const phase = quarter & 3
  const at = plane + (sample << 2)
  if (phase == 0) return <f64>abs(load<f32>(at))
  let from = at - ((FINE_TAPS / 2 - 1) << 2)
  let taps = AT_FINE_TAPS + (phase - 1) * FINE_TAPS * 8
  let even = f64x2.splat(0)
  let odd = f64x2.splat(0)
  for (let tap = 0; tap < FINE_TAPS; tap += 4) {
    even = f64x2.relaxed_madd(v128.load(taps), f64x2.promote_low_f32x4(v128.load64_zero(from)), even)
    odd = f64x2.relaxed_madd(v128.load(taps + 16), f64x2.promote_low_f32x4(v128.load64_zero(from + 8)), odd)
    taps += 32
    from += 16
  }
  const both = f64x2.add(even, odd)
  return abs(f64x2.extract_lane(both, 0) + f64x2.extract_lane(both, 1))
}
