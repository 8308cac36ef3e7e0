import { expect, test } from 'vitest'
import { openWav } from '../../../app/audio/wav/open-wav.ts'
import { decodeByWavefile, wavefileDecodes } from '../../../main/adapters/media/decode-by-wavefile.ts'
import { bytesSource } from '../../../main/workers/file-byte-source.ts'
import { inspected } from '../../support/inspected.ts'
import { chunk, riff } from '../../support/wav-bytes.ts'

const MU_LAW = 7
const IMA_ADPCM = 0x11

/** A WAV of one byte a sample at 8 kHz. */
function coded(formatTag: number, data: Uint8Array, blockAlign = 1): Uint8Array {
  const format = new DataView(new ArrayBuffer(20))
  format.setUint16(0, formatTag, true)
  format.setUint16(2, 1, true)
  format.setUint32(4, 8000, true)
  format.setUint32(8, 8000, true)
  format.setUint16(12, blockAlign, true)
  format.setUint16(14, formatTag === MU_LAW ? 8 : 4, true)
  format.setUint16(16, 2, true)
  format.setUint16(18, 2 * blockAlign - 7, true)
  return riff('RIFF', [chunk('fmt ', new Uint8Array(format.buffer)), chunk('data', data)])
}

test.each([999, 1000])(
  'of %i mu-law samples comes as many, and nothing of what fills up the chunk',
  (frames) => {
    // 0xff is zero, the byte that fills up a chunk is the lowest value there is.
    const bytes = coded(MU_LAW, new Uint8Array(frames).fill(0xff))
    const { facts } = inspected(bytes).inspection
    expect(wavefileDecodes(facts!, bytes.length)).toBe(true)
    const decoded = decodeByWavefile(bytes, facts!)!
    expect(openWav(bytesSource(decoded), decoded)?.facts).toMatchObject({ frames, bitDepth: 16, defects: [] })
    expect(decoded.subarray(44).every((byte) => byte === 0)).toBe(true)
  },
)

test('IMA ADPCM is left to ffmpeg: the library adds a sample to each block', () => {
  const { facts } = inspected(coded(IMA_ADPCM, new Uint8Array(1024), 256)).inspection
  expect(facts?.coding).toBe('adpcm')
  expect(wavefileDecodes(facts!, 1100)).toBe(false)
})
