// oxlint-disable-next-line import/default -- Node runs the package's CommonJS build, whose exports are its default
import wavefile from 'wavefile'
import { plainHeader } from '../../../app/audio/prepare/plain-wav.ts'
import type { AudioFacts } from '../../../app/model/audio-facts.ts'

/** The library holds a file several times over in memory; larger ones go through ffmpeg. */
export const WAVEFILE_MOST_BYTES = 16 << 20
/** Of what these codings decode to. */
const BIT_DEPTH = 16

/**
 * Whether the library decodes this coding: A-law and mu-law. Of IMA ADPCM it gives the first sample of
 * each block twice (wavefile 11.0.0), so that a sound grows longer and clicks block by block.
 */
export function wavefileDecodes(facts: AudioFacts, sizeBytes: number): boolean {
  if (sizeBytes > WAVEFILE_MOST_BYTES || facts.container !== 'riff' || facts.defects.length > 0) return false
  return (
    (facts.coding === 'alaw' || facts.coding === 'mulaw') && (facts.formatTag === 6 || facts.formatTag === 7)
  )
}

/**
 * The same sound as a 16-bit PCM WAV, of as many frames as the file says. The library takes the byte
 * that fills up a chunk of odd length for a sample too, which becomes a click.
 * @returns undefined where the library refuses the file, or finds less in it
 */
export function decodeByWavefile(bytes: Uint8Array, facts: AudioFacts): Uint8Array | undefined {
  const { frames, channels, sampleRateHz } = facts
  if (frames === null || channels === null || sampleRateHz === null) return undefined
  try {
    const wav = new wavefile.WaveFile(bytes)
    if (facts.coding === 'alaw') wav.fromALaw()
    else wav.fromMuLaw()
    const { samples } = wav.data as { samples: Uint8Array }
    const wanted = frames * channels * (BIT_DEPTH / 8)
    if (samples.length < wanted) return undefined
    const header = plainHeader({ frames, channels, sampleRateHz, bitDepth: BIT_DEPTH })
    return new Uint8Array(Buffer.concat([header, samples.subarray(0, wanted)]))
  } catch {
    return undefined
  }
}
