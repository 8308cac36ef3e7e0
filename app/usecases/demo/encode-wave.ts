/** How samples are written. */
export interface WaveFormat {
  readonly sampleRateHz: number
  readonly channels: 1 | 2
  readonly bitDepth: 16 | 24
  /** Chunks between `fmt ` and `data`, such as a note of the editor that wrote them. */
  readonly chunksBeforeData: readonly { readonly id: string; readonly text: string }[]
}

/**
 * A RIFF WAVE file of whole-number samples; all channels carry the same signal.
 *
 * Shape:  samples from -1 to 1, anything beyond is cut off at full scale -> the file's bytes.
 * Source: Microsoft and IBM, "Multimedia Programming Interface and Data Specifications 1.0" (1991),
 *         chapter "Waveform Audio File Format".
 */
export function encodeWave(samples: Float64Array, format: WaveFormat): Uint8Array {
  const sampleBytes = format.bitDepth / 8
  const blockBytes = sampleBytes * format.channels
  const extraBytes = format.chunksBeforeData.reduce((sum, chunk) => sum + 8 + even(chunk.text.length), 0)
  const dataBytes = samples.length * blockBytes
  const bytes = new Uint8Array(44 + extraBytes + even(dataBytes))
  const view = new DataView(bytes.buffer)
  writeText(bytes, 0, 'RIFF')
  view.setUint32(4, bytes.length - 8, true)
  writeText(bytes, 8, 'WAVEfmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true)
  view.setUint16(22, format.channels, true)
  view.setUint32(24, format.sampleRateHz, true)
  view.setUint32(28, format.sampleRateHz * blockBytes, true)
  view.setUint16(32, blockBytes, true)
  view.setUint16(34, format.bitDepth, true)
  let at = 36
  for (const chunk of format.chunksBeforeData) {
    writeText(bytes, at, chunk.id)
    view.setUint32(at + 4, chunk.text.length, true)
    writeText(bytes, at + 8, chunk.text)
    at += 8 + even(chunk.text.length)
  }
  writeText(bytes, at, 'data')
  view.setUint32(at + 4, dataBytes, true)
  at += 8
  const fullScale = format.bitDepth === 16 ? 0x8000 : 0x800000
  for (const sample of samples) {
    const value = Math.max(-fullScale, Math.min(fullScale - 1, Math.round(sample * fullScale)))
    for (let channel = 0; channel < format.channels; channel++) {
      for (let byte = 0; byte < sampleBytes; byte++) bytes[at++] = (value >> (8 * byte)) & 0xff
    }
  }
  return bytes
}

function even(length: number): number {
  return length + (length % 2)
}

function writeText(bytes: Uint8Array, at: number, text: string): void {
  for (let index = 0; index < text.length; index++) bytes[at + index] = text.charCodeAt(index) & 0xff
}
