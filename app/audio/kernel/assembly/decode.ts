import { AT_INPUT, samplesOf } from './layout'

/** Samples beyond this are no sound. */
const WILD: f64 = 1048576

/** Samples that were no number, infinite or far beyond full scale. */
export let wildSamples: f64 = 0

export function forgetWild(): void {
  wildSamples = 0
}

/** Decodes `frames` frames from `at` in the input into the planes, as fractions of full scale. */
export function decode(encoding: i32, at: i32, frames: i32, channels: i32): void {
  const from = AT_INPUT + at
  if (encoding == 1 && channels == 1) {
    decode16(from, samplesOf(0), frames)
    return
  }
  const width = encoding == 0 ? 1 : encoding == 1 ? 2 : encoding == 2 ? 3 : encoding == 5 ? 8 : 4
  for (let channel = 0; channel < channels; channel++) {
    decodeChannel(encoding, from + channel * width, width * channels, samplesOf(channel), frames)
  }
}

/** Four at a time: 16-bit, one channel, the usual sound. */
function decode16(from: usize, to: usize, frames: i32): void {
  const scale = f32x4.splat(1.0 / 32768)
  const whole = frames & ~3
  for (let index = 0; index < whole; index += 4) {
    const four = v128.load_ext<i16>(from + (index << 1))
    v128.store(to + (index << 2), f32x4.mul(f32x4.convert_i32x4_s(four), scale))
  }
  for (let index = whole; index < frames; index++) {
    store<f32>(to + (index << 2), <f32>load<i16>(from + (index << 1)) * <f32>(1.0 / 32768))
  }
}

function decodeChannel(encoding: i32, from: usize, stride: i32, to: usize, frames: i32): void {
  const end = to + (frames << 2)
  if (encoding == 0) {
    for (; to < end; to += 4, from += stride) {
      store<f32>(to, <f32>(<i32>load<u8>(from) - 128) * <f32>(1.0 / 128))
    }
  } else if (encoding == 1) {
    for (; to < end; to += 4, from += stride) store<f32>(to, <f32>load<i16>(from) * <f32>(1.0 / 32768))
  } else if (encoding == 2) {
    for (; to < end; to += 4, from += stride) {
      const value = <i32>load<u16>(from) | ((<i32>load<i8>(from + 2)) << 16)
      store<f32>(to, <f32>value * <f32>(1.0 / 8388608))
    }
  } else if (encoding == 3) {
    for (; to < end; to += 4, from += stride) store<f32>(to, <f32>load<i32>(from) * <f32>(1.0 / 2147483648))
  } else if (encoding == 4) {
    for (; to < end; to += 4, from += stride) store<f32>(to, <f32>tame(<f64>load<f32>(from)))
  } else {
    for (; to < end; to += 4, from += stride) store<f32>(to, <f32>tame(load<f64>(from)))
  }
}

@inline
function tame(value: f64): f64 {
  if (abs(value) <= WILD) return value
  wildSamples += 1
  return 0
}
