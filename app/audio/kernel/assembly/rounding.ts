// The rounding of samples. What each step does and why stands in ../../prepare/plain-rounder.ts, which
// agrees with it byte for byte.

/** Most channels, and frames at a time. */
const CHANNELS: i32 = 8
const BLOCK: i32 = 16384

const AT_SAMPLES: usize = (__heap_base + 63) & ~63
const AT_BYTES: usize = AT_SAMPLES + CHANNELS * BLOCK * 8
/** State of the four generators of the dither, and the last four numbers of theirs, already summed. */
const AT_A: usize = AT_BYTES + CHANNELS * BLOCK * 4
const AT_B: usize = AT_A + 16
const AT_C: usize = AT_A + 32
const AT_NOISE: usize = AT_A + 48
/** Numbers in all lanes, see `keepNumbers`. */
const AT_NUMBERS: usize = AT_A + 64
const AT_END: usize = AT_NUMBERS + 7 * 16

let globalCounter: i32 = 0
/** How many of the last four numbers are used up. */
let used: i32 = 4
let isDithered: bool = false
let sampleGain: f64 = 1

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

/** Where a generator begins: lane 0 to 3. To be told of all four before `begin`. */
export function seedLane(lane: i32, a: i32, b: i32, c: i32): void {
  store<i32>(AT_A + (lane << 2), a)
  store<i32>(AT_B + (lane << 2), b)
  store<i32>(AT_C + (lane << 2), c)
}

export function begin(gain: f64, dithered: bool, passedOver: i32): void {
  sampleGain = gain
  keepNumbers()
  isDithered = dithered
  globalCounter = 1
  used = 4
  for (let index = 0; index < passedOver; index++) nextFour()
}

function nextFour(): void {
  const a = v128.load(AT_A)
  const b = v128.load(AT_B)
  const c = v128.load(AT_C)
  const bits = i32x4.add(i32x4.add(a, b), i32x4.splat(globalCounter))
  globalCounter++
  v128.store(AT_A, v128.xor(b, i32x4.shr_u(b, 9)))
  v128.store(AT_B, i32x4.add(c, i32x4.shl(c, 3)))
  v128.store(AT_C, i32x4.add(turned21(c), bits))
  v128.store(AT_NOISE, sumsOfHalves(bits))
  used = 0
}

@inline
function turned21(word: v128): v128 {
  return v128.or(i32x4.shl(word, 21), i32x4.shr_u(word, 11))
}

@inline
function sumsOfHalves(bits: v128): v128 {
  const low = v128.and(bits, i32x4.splat(0xffff))
  return i32x4.sub(i32x4.add(low, i32x4.shr_u(bits, 16)), i32x4.splat(0xffff))
}

function nextDither(): f64 {
  if (used == 4) nextFour()
  return <f64>load<i32>(AT_NOISE + (used++ << 2)) * (1.0 / 65536.0)
}

/** Rounds a block of all channels into bytes, one frame after the other. */
export function round(frames: i32, channels: i32, bitDepth: i32): void {
  cut = 0
  if (bitDepth == 16 && channels == 1 && (used == 4 || !isDithered)) roundFourByFour(frames)
  else roundAny(0, frames, channels, bitDepth)
}

/** Added to a number, this leaves it rounded in the lowest bits of a 64-bit float, halves to the even one. */
const WHOLE: f64 = 6755399441055744.0

/**
 * Numbers that the loop needs in every lane. Read from memory they stay in registers; written in the
 * loop they would be put together anew each time round, which takes longer than the rounding.
 */
function keepNumbers(): void {
  v128.store(AT_NUMBERS, f64x2.splat(32768.0))
  v128.store(AT_NUMBERS + 16, f64x2.splat(32767.5))
  v128.store(AT_NUMBERS + 32, f64x2.splat(1.0 / 65536.0))
  v128.store(AT_NUMBERS + 48, f64x2.splat(WHOLE))
  v128.store(AT_NUMBERS + 64, i32x4.splat(0xffff))
  v128.store(AT_NUMBERS + 80, i32x4.splat(1))
  v128.store(AT_NUMBERS + 96, f64x2.splat(sampleGain))
}

/** The usual sound: 16 bit, one channel. The generators' state stays in registers. */
function roundFourByFour(frames: i32): void {
  let a = v128.load(AT_A)
  let b = v128.load(AT_B)
  let c = v128.load(AT_C)
  let counter = i32x4.splat(globalCounter)
  const scale = v128.load(AT_NUMBERS)
  const most = v128.load(AT_NUMBERS + 16)
  const perStep = v128.load(AT_NUMBERS + 32)
  const whole = v128.load(AT_NUMBERS + 48)
  const lowHalf = v128.load(AT_NUMBERS + 64)
  const one = v128.load(AT_NUMBERS + 80)
  const gain = v128.load(AT_NUMBERS + 96)
  const dithers = isDithered
  const fours = frames & ~3
  let sums = v128.xor(a, a)
  const zero = v128.xor(a, a)
  for (let frame = 0; frame < fours; frame += 4) {
    if (dithers) {
      const bits = i32x4.add(i32x4.add(a, b), counter)
      counter = i32x4.add(counter, one)
      a = v128.xor(b, i32x4.shr_u(b, 9))
      b = i32x4.add(c, i32x4.shl(c, 3))
      c = i32x4.add(turned21(c), bits)
      sums = i32x4.sub(i32x4.add(v128.and(bits, lowHalf), i32x4.shr_u(bits, 16)), lowHalf)
    }
    const at = AT_SAMPLES + (frame << 3)
    const first = f64x2.mul(f64x2.mul(v128.load(at), gain), scale)
    const last = f64x2.mul(f64x2.mul(v128.load(at, 16), gain), scale)
    // Whether all four are numbers within full scale: if not, one by one.
    const within = v128.and(f64x2.le(f64x2.abs(first), most), f64x2.le(f64x2.abs(last), most))
    if (!i64x2.all_true(within)) {
      v128.store(AT_NOISE, sums)
      used = 0
      roundAny(frame, 4, 1, 16)
      continue
    }
    const firstNoise = f64x2.mul(f64x2.convert_low_i32x4_s(sums), perStep)
    const lastNoise = f64x2.mul(f64x2.convert_low_i32x4_s(i64x2.shuffle(sums, sums, 1, 1)), perStep)
    // The whole numbers stand in the lower halves of the lanes. Digital silence stays silent.
    const firstTwo = v128.and(f64x2.add(f64x2.add(first, firstNoise), whole), f64x2.ne(first, zero))
    const lastTwo = v128.and(f64x2.add(f64x2.add(last, lastNoise), whole), f64x2.ne(last, zero))
    const four = i32x4.shuffle(firstTwo, lastTwo, 0, 2, 4, 6)
    // Noise can lift the highest by one more: the narrowing cuts it.
    v128.store64_lane(AT_BYTES + (frame << 1), i16x8.narrow_i32x4_s(four, four), 0)
  }
  v128.store(AT_A, a)
  v128.store(AT_B, b)
  v128.store(AT_C, c)
  globalCounter = i32x4.extract_lane(counter, 0)
  if (fours < frames) roundAny(fours, frames - fours, 1, 16)
}

function roundAny(from: i32, frames: i32, channels: i32, bitDepth: i32): void {
  const scale = <f64>((<i64>1) << (bitDepth - 1))
  const highest = scale - 1
  const width = bitDepth >> 3
  let at = AT_BYTES + from * channels * width
  for (let frame = from; frame < from + frames; frame++) {
    for (let channel = 0; channel < channels; channel++) {
      const exact = load<f64>(samplesAt(channel) + (frame << 3)) * sampleGain * scale
      const noise = isDithered ? nextDither() : 0
      const within = f64.max(-scale, f64.min(highest, exact + noise))
      let whole = <i32>(within + WHOLE - WHOLE)
      // What is no number is taken for silence, and that stays silent.
      if (exact == 0 || exact != exact) whole = 0
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
