import wavefile from 'wavefile'
import { PLAIN_HEADER_BYTES, type PlainFormat } from '../../../app/audio/prepare/plain-wav.ts'

/**
 * Whether another reader finds in a prepared WAV what was written: the same format, and every byte of
 * its samples. The library takes long over large files: only small ones should be asked about.
 * @returns what it found otherwise, in a sentence; undefined where it agrees
 */
export function disproof(bytes: Uint8Array, format: PlainFormat): string | undefined {
  const wav = new wavefile.WaveFile()
  try {
    wav.fromBuffer(withoutCopies(bytes))
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
  const found = wav.fmt as {
    numChannels: number
    sampleRate: number
    bitsPerSample: number
    audioFormat: number
  }
  const isSame =
    found.audioFormat === 1 &&
    found.numChannels === format.channels &&
    found.sampleRate === format.sampleRateHz &&
    found.bitsPerSample === format.bitDepth
  if (!isSame)
    return `it reads ${found.sampleRate} Hz, ${found.bitsPerSample} bit, ${found.numChannels} channels`
  const data = wav.data as { samples: Uint8Array; chunkSize: number }
  const wanted = (format.frames * format.channels * format.bitDepth) / 8
  if (data.chunkSize !== wanted) return `it finds ${data.chunkSize} bytes of samples, not ${wanted}`
  const ours = bytes.subarray(PLAIN_HEADER_BYTES, PLAIN_HEADER_BYTES + wanted)
  return Buffer.compare(ours, data.samples.subarray(0, wanted)) === 0 ? undefined : 'it reads other samples'
}

/**
 * The library copies the samples out of a file by `slice`. It is given bytes whose slices are views of
 * them: reading changes none.
 */
function withoutCopies(bytes: Uint8Array): Uint8Array {
  const view = bytes.subarray()
  return Object.defineProperty(view, 'slice', {
    value: (from?: number, to?: number) => view.subarray(from, to),
  })
}
