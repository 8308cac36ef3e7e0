import { parseStream } from 'music-metadata'
import { createReadStream } from 'node:fs'
import type { SoundKind } from '../../../app/audio/sniff-kind.ts'
import type { AudioFacts } from '../../../app/model/audio-facts.ts'

const MIME_TYPES: Readonly<Record<Exclude<SoundKind, 'wav' | 'other'>, string>> = {
  mp3: 'audio/mpeg',
  flac: 'audio/flac',
  ogg: 'audio/ogg',
  m4a: 'audio/mp4',
  aiff: 'audio/aiff',
}

/**
 * Facts of a sound that is no WAV. The kind is told from our own sniffing: by itself the library goes
 * by the file's name. Frames count what the file says; decoding counts what is there.
 * @returns undefined where the library cannot read it
 */
export async function foreignFacts(
  path: string,
  sizeBytes: number,
  kind: Exclude<SoundKind, 'wav' | 'other'>,
): Promise<AudioFacts | undefined> {
  const stream = createReadStream(path)
  try {
    const options = { duration: true, skipCovers: true, skipPostHeaders: false }
    const { format, common } = await parseStream(
      stream,
      { mimeType: MIME_TYPES[kind], size: sizeBytes },
      options,
    )
    const sampleRateHz = format.sampleRate ?? null
    const seconds = format.duration ?? null
    const named = seconds === null || sampleRateHz === null ? null : Math.round(seconds * sampleRateHz)
    const frames = format.numberOfSamples ?? named
    const tags = { title: common.title, artist: common.artist, album: common.album, format: format.codec }
    return {
      container: 'other',
      coding: 'other',
      formatTag: null,
      channels: format.numberOfChannels ?? null,
      sampleRateHz,
      bitDepth: format.bitsPerSample ?? null,
      validBits: format.bitsPerSample ?? null,
      frames,
      seconds,
      chunks: [],
      loops: [],
      tags: Object.fromEntries(
        Object.entries(tags).filter(([, text]) => text !== undefined && text !== ''),
      ) as Record<string, string>,
      defects: [],
    }
  } catch {
    return undefined
  } finally {
    stream.destroy()
  }
}
