// The measuring kernel. What each step does and why stands in ../plain-kernel.ts, which agrees with it.
import { countSteps, envelope } from './count'
import { decode, forgetWild } from './decode'
import { filterOne, filterTwo } from './filter'
import {
  AT_BIN_HIGHEST,
  AT_BIN_LOWEST,
  AT_COARSE_TAPS,
  AT_END,
  AT_FINE_TAPS,
  AT_HOP_ENERGY,
  AT_HOP_LOUDNESS,
  AT_INPUT,
  AT_PLANES,
  AT_STATES,
  AT_STEP_COUNTS,
  BLOCK,
  CHANNELS,
  ENVELOPE_FRAMES,
  INPUT_BYTES,
  PLANE,
  REACH,
  S_CLIPPED_RUNS,
  S_CUT_ENERGY,
  S_HOP_ENERGY,
  S_HOP_LOUDNESS,
  S_KEPT_CUT_ENERGY,
  S_SAMPLE_PEAK,
  S_SQUARES,
  S_SUM,
  S_TRUE_PEAK,
  S_WEIGHT,
  STEP_CLASSES,
  samplesOf,
  stateOf,
} from './layout'
import { searchPeak } from './peak'

export { wildSamples } from './decode'
export { setFilters } from './filter'
export { setPeakBounds, setSkipping } from './peak'

let encoding: i32 = 0
let channels: i32 = 1
let hopRateHz: f64 = 0
let fullScale: f32 = 1
let frame: f64 = 0
let hop: f64 = 0
let isFirstBlock: bool = true
let isUsed: bool = false

/** How many bins and hops the last feed gave. */
export let binCount: i32 = 0
export let hopCount: i32 = 0

export function inputAt(): usize {
  return AT_INPUT
}
export function inputBytes(): i32 {
  return INPUT_BYTES
}
export function coarseTapsAt(): usize {
  return AT_COARSE_TAPS
}
export function fineTapsAt(): usize {
  return AT_FINE_TAPS
}
export function binLowestAt(): usize {
  return AT_BIN_LOWEST
}
export function binHighestAt(): usize {
  return AT_BIN_HIGHEST
}
export function hopLoudnessAt(): usize {
  return AT_HOP_LOUDNESS
}
export function hopEnergyAt(): usize {
  return AT_HOP_ENERGY
}
export function stepCountsAt(channel: i32): usize {
  return AT_STEP_COUNTS + channel * STEP_CLASSES * 4
}
export function memoryEnd(): usize {
  return AT_END
}

/** Encodings in the order of the port: u8 s16 s24 s32 f32 f64. */
export function begin(soundEncoding: i32, soundChannels: i32, hopRate: f64, clippedFrom: f64): void {
  memory.fill(AT_STATES, 0, CHANNELS * 256)
  const used = isUsed ? channels : CHANNELS
  memory.fill(AT_STEP_COUNTS, 0, used * STEP_CLASSES * 4)
  for (let channel = 0; channel < used; channel++) memory.fill(AT_PLANES + channel * PLANE, 0, PLANE)
  isUsed = true
  encoding = soundEncoding
  channels = soundChannels
  hopRateHz = hopRate
  fullScale = <f32>clippedFrom
  frame = 0
  hop = 0
  isFirstBlock = true
  forgetWild()
}

export function setWeight(channel: i32, weight: f64): void {
  store<f64>(stateOf(channel) + S_WEIGHT, weight)
}

export function feed(at: i32, frames: i32): void {
  binCount = 0
  hopCount = 0
  const width = encoding == 0 ? 1 : encoding == 1 ? 2 : encoding == 2 ? 3 : encoding == 5 ? 8 : 4
  for (let done = 0; done < frames; done += BLOCK) {
    const count = min(BLOCK, frames - done)
    decode(encoding, at + done * width * channels, count, channels)
    for (let channel = 0; channel < channels; channel++) {
      envelope(channel, count, binCount, fullScale)
      countSteps(channel, isFirstBlock ? 1 : 0, count)
    }
    isFirstBlock = false
    binCount += (count + ENVELOPE_FRAMES - 1) / ENVELOPE_FRAMES
    filterBlock(count)
    for (let channel = 0; channel < channels; channel++) searchPeak(channel, count)
  }
}

function filterBlock(frames: i32): void {
  let from = 0
  while (from < frames) {
    const hopEnd = Math.floor(((hop + 1) * hopRateHz) / 100 + 0.5)
    const to = <i32>min(<f64>frames, <f64>from + hopEnd - frame)
    filterAll(from, to)
    frame += <f64>(to - from)
    from = to
    if (frame >= hopEnd) endHop()
  }
}

function filterAll(from: i32, to: i32): void {
  let channel = 0
  for (; channel + 2 <= channels; channel += 2) filterTwo(channel, from, to)
  if (channel < channels) filterOne(channel, from, to)
}

function endHop(): void {
  let loudness: f64 = 0
  for (let channel = 0; channel < channels; channel++) {
    const state = stateOf(channel)
    const energy = load<f64>(state + S_HOP_ENERGY)
    loudness += load<f64>(state + S_HOP_LOUDNESS) * load<f64>(state + S_WEIGHT)
    store<f64>(AT_HOP_ENERGY + ((hopCount * channels + channel) << 3), energy)
    store<f64>(state + S_SQUARES, load<f64>(state + S_SQUARES) + energy)
    store<f64>(state + S_HOP_ENERGY, 0)
    store<f64>(state + S_HOP_LOUDNESS, 0)
  }
  store<f64>(AT_HOP_LOUDNESS + (hopCount << 3), loudness)
  hopCount++
  hop += 1
}

/**
 * Searches what lies within reach of the last sample, and lets the filters ring out over silence. The
 * last hop then holds the loudness of what followed the last whole one.
 */
export function finish(silentFrames: i32): void {
  for (let channel = 0; channel < channels; channel++) {
    memory.fill(samplesOf(channel), 0, 8 * REACH)
    searchPeak(channel, 2 * REACH)
    store<f64>(stateOf(channel) + S_KEPT_CUT_ENERGY, load<f64>(stateOf(channel) + S_CUT_ENERGY))
  }
  for (let channel = 0; channel < channels; channel++) memory.fill(samplesOf(channel), 0, BLOCK << 2)
  for (let done = 0; done < silentFrames; done += BLOCK) filterAll(0, min(BLOCK, silentFrames - done))
  hopCount = 0
  endHop()
}

export function sumOf(channel: i32): f64 {
  return load<f64>(stateOf(channel) + S_SUM)
}
export function squaresOf(channel: i32): f64 {
  return load<f64>(stateOf(channel) + S_SQUARES)
}
/** Energy behind the low-cut, without the ring-out. */
export function cutEnergyOf(channel: i32): f64 {
  return load<f64>(stateOf(channel) + S_KEPT_CUT_ENERGY)
}
export function samplePeakOf(channel: i32): f64 {
  return load<f64>(stateOf(channel) + S_SAMPLE_PEAK)
}
export function truePeakOf(channel: i32): f64 {
  return load<f64>(stateOf(channel) + S_TRUE_PEAK)
}
export function clippedRunsOf(channel: i32): i32 {
  return load<i32>(stateOf(channel) + S_CLIPPED_RUNS)
}
