// The rounding of samples. What each step does and why stands in ../../prepare/plain-rounder.ts, which
// agrees with it byte for byte.

/** Most channels, and frames at a time. */
const CHANNELS: i32 = 8
const BLOCK: i32 = 16384

const AT_SAMPLES: usize = (__heap_base + 63) & ~63
const AT_BYTES: usize = AT_SAMPLES + CHANNELS * BLOCK * 8
const AT_END: usize = AT_BYTES + CHANNELS * BLOCK * 4

let a: i32 = 0
let b: i32 = 0
let c: i32 = 0
let counter: i32 = 0
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
  a = seedA
  b = seedB
  c = seedC
  counter = 1
  for (let index = 0; index < 12; index++) nextDither()
}

@inline
function nextDither(): f64 {
  const bits = a + b + counter
  counter++
  a = b ^ (b >>> 9)
  b = c + (c << 3)
  c = rotl(c, 21) + bits
  return <f64>((bits & 0xffff) + (bits >>> 16) - 0xffff) * (1.0 / 65536.0)
}

/** Rounds a block of all channels into bytes, one frame after the other. */
export function round(frames: i32, channels: i32, bitDepth: i32): void {
  cut = 0
  if (bitDepth == 16 && channels == 1) round16(frames)
  else roundAny(frames, channels, bitDepth)
}

function round16(frames: i32): void {
  for (let frame = 0; frame < frames; frame++) {
    const exact = load<f64>(AT_SAMPLES + (frame << 3)) * 32768.0
    const noise = isDithered ? nextDither() : 0
    const value = f64.floor(exact + noise + 0.5)
    let whole = <i32>f64.max(-32768.0, f64.min(32767.0, value))
    if (exact == 0) whole = 0
    else if (exact > 32767.5 || exact < -32768.5) cut++
    store<i16>(AT_BYTES + (frame << 1), whole)
  }
}

function roundAny(frames: i32, channels: i32, bitDepth: i32): void {
  const scale = <f64>((<i64>1) << (bitDepth - 1))
  const highest = scale - 1
  const width = bitDepth >> 3
  let at = AT_BYTES
  for (let frame = 0; frame < frames; frame++) {
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
