// oxlint-disable-next-line import/default -- Node runs the package's CommonJS build, whose exports are its default
import wavefile from 'wavefile'
import type { AudioFacts } from '../../../app/model/audio-facts.ts'

/** The library holds a file several times over in memory; larger ones go through ffmpeg. */
export const WAVEFILE_MOST_BYTES = 16 << 20
const IMA_ADPCM = 0x0011

/** Whether the library decodes this coding: A-law, mu-law, and IMA ADPCM of one channel. */
export function wavefileDecodes(facts: AudioFacts, sizeBytes: number): boolean {
  if (sizeBytes > WAVEFILE_MOST_BYTES || facts.container !== 'riff' || facts.defects.length > 0) return false
  if (facts.coding === 'alaw' || facts.coding === 'mulaw')
    return facts.formatTag === 6 || facts.formatTag === 7
  return facts.formatTag === IMA_ADPCM && facts.channels === 1
}

/**
 * The same sound as a 16-bit PCM WAV.
 * @returns undefined where the library refuses the file
 */
export function decodeByWavefile(bytes: Uint8Array, facts: AudioFacts): Uint8Array | undefined {
  try {
    const wav = new wavefile.WaveFile(bytes)
    if (facts.coding === 'alaw') wav.fromALaw()
    else if (facts.coding === 'mulaw') wav.fromMuLaw()
    else wav.fromIMAADPCM()
    return wav.toBuffer()
  } catch {
    return undefined
  }
}
