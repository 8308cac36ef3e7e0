import type { FormatChunk } from './format-chunk.ts'

const IMA = 0x0011

/**
 * Frames in the blocks of IMA or MS ADPCM that are really there, a cut last block included.
 * Source: Microsoft, "New Multimedia Data Types and Data Techniques" (1994), on both layouts.
 */
export function adpcmFrames(format: FormatChunk, dataBytes: number): number | null {
  const { channels, blockAlign } = format
  if (channels === 0 || blockAlign === 0) return null
  const perBlock = (bytes: number) =>
    format.formatTag === IMA ? imaFrames(bytes, channels) : msFrames(bytes, channels)
  const whole = Math.floor(dataBytes / blockAlign)
  const full = perBlock(blockAlign)
  if (full <= 0) return null
  const stated = format.samplesPerBlock
  const framesPerBlock = stated > 0 && stated <= full ? stated : full
  return whole * framesPerBlock + Math.min(framesPerBlock, Math.max(0, perBlock(dataBytes % blockAlign)))
}

/** A 4-byte head a channel carries the first sample; then two samples a byte, in 4-byte words a channel. */
function imaFrames(bytes: number, channels: number): number {
  const words = Math.floor((bytes - 4 * channels) / (4 * channels))
  return bytes < 4 * channels ? 0 : 1 + words * 8
}

/** A 7-byte head a channel carries the first two samples; then two samples a byte. */
function msFrames(bytes: number, channels: number): number {
  return bytes < 7 * channels ? 0 : 2 + Math.floor(((bytes - 7 * channels) * 2) / channels)
}
