// Where everything lies in the kernel's memory. Nothing is allocated while it runs.

/** Most channels. */
export const CHANNELS: i32 = 8
/** Frames decoded and measured at a time: the samples of one channel stay in the first cache. */
export const BLOCK: i32 = 4096
/** Samples that must lie on either side of a place before the true peak is searched there. */
export const REACH: i32 = 96
export const GROUP: i32 = 32
export const COARSE_TAPS: i32 = 12
export const FINE_TAPS: i32 = 128
export const STEP_CLASSES: i32 = 30720
export const ENVELOPE_FRAMES: i32 = 256
export const INPUT_BYTES: i32 = 327680
export const MOST_HOPS: i32 = 20480 + 8

@inline
function after(at: usize, bytes: i32): usize {
  return (at + bytes + 63) & ~63
}

/** Samples of one channel as 32-bit floats: twice REACH of what came before, then the block. */
export const PLANE: i32 = 4 * (2 * REACH + BLOCK + 64)
const CHUNKS: i32 = (2 * REACH + BLOCK) / GROUP + 16

export const AT_INPUT: usize = (__heap_base + 63) & ~63
export const AT_PLANES: usize = after(AT_INPUT, INPUT_BYTES + 64)
export const AT_CHUNK_LOUDEST: usize = after(AT_PLANES, CHANNELS * PLANE)
export const AT_CHUNK_BEND: usize = after(AT_CHUNK_LOUDEST, 4 * CHUNKS)
export const AT_CHUNK_BOUND: usize = after(AT_CHUNK_BEND, 4 * CHUNKS)
export const AT_COARSE_READINGS: usize = after(AT_CHUNK_BOUND, 4 * CHUNKS)
export const AT_COARSE_TAPS: usize = after(AT_COARSE_READINGS, 4 * 4 * (GROUP + 8))
export const AT_FINE_TAPS: usize = after(AT_COARSE_TAPS, 4 * 3 * COARSE_TAPS)
export const AT_STATES: usize = after(AT_FINE_TAPS, 8 * 3 * FINE_TAPS)
export const AT_STEP_COUNTS: usize = after(AT_STATES, CHANNELS * 256)
export const AT_BIN_LOWEST: usize = after(AT_STEP_COUNTS, CHANNELS * STEP_CLASSES * 4)
export const AT_BIN_HIGHEST: usize = after(AT_BIN_LOWEST, 4 * (INPUT_BYTES / ENVELOPE_FRAMES + 2))
export const AT_HOP_LOUDNESS: usize = after(AT_BIN_HIGHEST, 4 * (INPUT_BYTES / ENVELOPE_FRAMES + 2))
export const AT_HOP_ENERGY: usize = after(AT_HOP_LOUDNESS, 8 * MOST_HOPS)
export const AT_END: usize = after(AT_HOP_ENERGY, 8 * MOST_HOPS)

// The state of one channel, as offsets from its place in AT_STATES.
export const S_X1: usize = 0
export const S_X2: usize = 8
export const S_PASSED1: usize = 16
export const S_PASSED2: usize = 24
export const S_WEIGHTED1: usize = 32
export const S_WEIGHTED2: usize = 40
export const S_CUT1: usize = 48
export const S_CUT2: usize = 56
export const S_SUM: usize = 64
export const S_SQUARES: usize = 72
export const S_CUT_ENERGY: usize = 80
export const S_HOP_LOUDNESS: usize = 88
export const S_HOP_ENERGY: usize = 96
export const S_TRUE_PEAK: usize = 104
export const S_SAMPLE_PEAK: usize = 112
export const S_WEIGHT: usize = 120
export const S_CLIPPED_ROW: usize = 128
export const S_CLIPPED_RUNS: usize = 132
export const S_KEPT_CUT_ENERGY: usize = 136

@inline
export function stateOf(channel: i32): usize {
  return AT_STATES + (channel << 8)
}

/** Where a channel's new samples begin in its plane. */
@inline
export function samplesOf(channel: i32): usize {
  return AT_PLANES + channel * PLANE + 8 * REACH
}
