// The rounding of samples. What each step does and why stands in ../../prepare/plain-rounder.ts, which
// agrees with it byte for byte.

/** Most channels, and frames at a time. */
const CHANNELS: i32 = 8
const BLOCK: i32 = 16384

const AT_SAMPLES: usize = (__heap_base + 63) & ~63
const AT_BYTES: usize = AT_SAMPLES + CHANNELS * BLOCK * 8
const AT_END: usize = AT_BYTES + CHANNELS * BLOCK * 4

let globalA: i32 = 0
let globalB: i32 = 0
let globalC: i32 = 0
let globalCounter: i32 = 0
let isDithered: bool = false

/** Samples that were cut by the last `round`. */
export let cut: i32 = 0

/** Where the samples of a channel go, as 64-bit floats. */
export function samplesAt(channel: i32): usize {
  return AT_SAMPLES + channel * BLOCK * 8
}
export function bytesAt(): usize {
  return AT_BYTES
}
export function memoryEnd(): usize {
  return AT_END
}
export function mostChannels(): i32 {
  return CHANNELS
}
export function mostFrames(): i32 {
  return BLOCK
}

export function begin(dithered: bool, seedA: i32, seedB: i32, seedC: i32): void {
  isDithered = dithered
  globalA = seedA
  globalB = seedB
  globalC = seedC
  globalCounter = 1
  for (let index = 0; index < 12; index++) nextDither()
}

function nextDither(): f64 {
  const bits = globalA + globalB + globalCounter
  globalCounter++
  globalA = globalB ^ (globalB >>> 9)
  globalB = globalC + (globalC << 3)
  globalC = rotl(globalC, 21) + bits
  return <f64>sumOfHalves(bits) * (1.0 / 65536.0)
}

@inline
function sumOfHalves(bits: i32): i32 {
  return (bits & 0xffff) + (bits >>> 16) - 0xffff
}

/** Rounds a block of all channels into bytes, one frame after the other. */
export function round(frames: i32, channels: i32, bitDepth: i32): void {
  cut = 0
  if (bitDepth == 16 && channels == 1) roundTwoByTwo(frames)
  else roundAny(0, frames, channels, bitDepth)
}

/** Whole numbers of this size stand in the lowest bits of a 64-bit float. */
const WHOLE: f64 = 6755399441055744.0

/** The usual sound: 16 bit, one channel. The generator's state stays in registers. */
function roundTwoByTwo(frames: i32): void {
  let a = globalA
  let b = globalB
  let c = globalC
  let counter = globalCounter
  const dithers = isDithered
  const both = frames & ~1
  for (let frame = 0; frame < both; frame += 2) {
    let noise = f64x2.splat(0.5)
    if (dithers) {
      const first = a + b + counter
      a = b ^ (b >>> 9)
      b = c + (c << 3)
      c = rotl(c, 21) + first
      const second = a + b + counter + 1
      a = b ^ (b >>> 9)
      b = c + (c << 3)
      c = rotl(c, 21) + second
      counter += 2
      const sums = i32x4.replace_lane(i32x4.splat(sumOfHalves(first)), 1, sumOfHalves(second))
      noise = f64x2.mul(f64x2.convert_low_i32x4_s(sums), f64x2.splat(1.0 / 65536.0))
    }
    const exact = f64x2.mul(v128.load(AT_SAMPLES + (frame << 3)), f64x2.splat(32768.0))
    if (dithers) noise = f64x2.add(f64x2.add(exact, noise), f64x2.splat(0.5))
    else noise = f64x2.add(exact, noise)
    const beyond = v128.or(f64x2.gt(exact, f64x2.splat(32767.5)), f64x2.lt(exact, f64x2.splat(-32768.5)))
    if (v128.any_true(beyond)) cut += popcnt(i32(i64x2.bitmask(beyond)))
    let whole = f64x2.pmax(f64x2.splat(-32768.0), f64x2.pmin(f64x2.splat(32767.0), f64x2.floor(noise)))
    // Digital silence stays silent; what is no number is taken for it.
    const heard = v128.and(f64x2.ne(exact, f64x2.splat(0)), f64x2.eq(exact, exact))
    whole = f64x2.add(v128.and(whole, heard), f64x2.splat(WHOLE))
    v128.store_lane<i16>(AT_BYTES + (frame << 1), whole, 0)
    v128.store_lane<i16>(AT_BYTES + (frame << 1) + 2, whole, 4)
  }
  globalA = a
  globalB = b
  globalC = c
  globalCounter = counter
  if (both < frames) roundAny(both, frames, 1, 16)
}

function roundAny(from: i32, frames: i32, channels: i32, bitDepth: i32): void {
  const scale = <f64>((<i64>1) << (bitDepth - 1))
  const highest = scale - 1
  const width = bitDepth >> 3
  let at = AT_BYTES + from * channels * width
  for (let frame = from; frame < frames; frame++) {
    for (let channel = 0; channel < channels; channel++) {
      const exact = load<f64>(samplesAt(channel) + (frame << 3)) * scale
      const noise = isDithered ? nextDither() : 0
      const value = f64.floor(exact + noise + 0.5)
      let whole = <i32>f64.max(-scale, f64.min(highest, value))
      if (exact == 0) whole = 0
      else if (exact > highest + 0.5 || exact < -scale - 0.5) cut++
      if (width == 1) store<u8>(at, whole + 128)
      else if (width == 4) store<i32>(at, whole)
      else {
        store<i16>(at, whole)
        if (width == 3) store<u8>(at + 2, whole >> 16)
      }
      at += width
    }
  }
}
