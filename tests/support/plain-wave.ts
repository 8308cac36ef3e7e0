/** A short mono 16-bit WAV; another `seed` gives other samples. */
export function plainWave(seed: number, frames = 900, sampleRateHz = 22_050): Uint8Array {
  const bytes = new Uint8Array(44 + frames * 2)
  const view = new DataView(bytes.buffer)
  const text = (at: number, word: string) => bytes.set(Buffer.from(word, 'latin1'), at)
  text(0, 'RIFF')
  view.setUint32(4, bytes.length - 8, true)
  text(8, 'WAVEfmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true)
  view.setUint16(22, 1, true)
  view.setUint32(24, sampleRateHz, true)
  view.setUint32(28, sampleRateHz * 2, true)
  view.setUint16(32, 2, true)
  view.setUint16(34, 16, true)
  text(36, 'data')
  view.setUint32(40, frames * 2, true)
  const step = 0.02 + (seed % 97) / 300
  for (let frame = 0; frame < frames; frame += 1) {
    view.setInt16(44 + frame * 2, Math.round(9000 * Math.sin(frame * step) + (seed % 1009)), true)
  }
  return bytes
}
