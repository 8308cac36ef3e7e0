import { writeFile, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { inspectSound, type InspectionTools, type SoundReading } from '../../app/audio/inspect-sound.ts'
import { noMeasures } from '../../app/audio/measure/no-measures.ts'
import { KIND_NAMES, type SoundKind } from '../../app/audio/sniff-kind.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { AudioFacts } from '../../app/model/audio-facts.ts'
import type { InspectedSound } from '../../app/ports/sound-inspector.ts'
import { withTemporaryFolder } from '../adapters/files/temporary-folder.ts'
import { decodeByWavefile, wavefileDecodes } from '../adapters/media/decode-by-wavefile.ts'
import { withDecodedCopy } from '../adapters/media/decoded-copy.ts'
import { foreignFacts } from '../adapters/media/foreign-facts.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'

/** Kinds whose decoders need not agree to the last bit: their samples identify nothing. */
const LOSSY: readonly SoundKind[] = ['mp3', 'ogg', 'm4a']

type Where = { readonly path: string } | { readonly name: string; readonly bytes: Uint8Array }

/**
 * Completes the reading of a sound that is no PCM or float WAV: facts by the format's own reader,
 * measures from what a decoder makes of it. What cannot be decoded keeps its facts, and says so.
 */
export async function inspectByDecoder(
  where: Where,
  reading: SoundReading,
  tools: InspectionTools,
): Promise<InspectedSound> {
  const { kind } = reading
  if (kind === 'other') return reading
  const ownFacts = reading.inspection.facts
  if (ownFacts !== null && wavefileDecodes(ownFacts, reading.inspection.sizeBytes)) {
    const bytes = 'bytes' in where ? where.bytes : new Uint8Array(await readFile(where.path))
    const pcm = decodeByWavefile(bytes, ownFacts)
    const read = pcm === undefined ? undefined : inspectSound(bytesSource(pcm), tools)
    if (read !== undefined && read.inspection.facts?.frames === ownFacts.frames)
      return merged(reading, ownFacts, read)
  }
  return withPath(where, async (path) => {
    const facts = kind === 'wav' ? ownFacts : await foreignFacts(path, reading.inspection.sizeBytes, kind)
    try {
      const read = await withDecodedCopy(path, kind, (wavPath) => inspectOpened(wavPath, tools))
      return merged(reading, facts ?? null, read)
    } catch (error) {
      if (!(error instanceof AppError)) throw error
      return undecoded(reading, facts ?? null, error)
    }
  })
}

function inspectOpened(path: string, tools: InspectionTools): SoundReading {
  const source = openFileSource(path)
  try {
    return inspectSound(source, tools)
  } finally {
    source.close()
  }
}

/** Facts of the original with what decoding found: its frames are those that are really there. */
function merged(reading: SoundReading, facts: AudioFacts | null, read: SoundReading): InspectedSound {
  const decoded = read.inspection.facts
  const isWav = reading.kind === 'wav'
  const known: AudioFacts | null = facts ?? (decoded === null ? null : asForeign(decoded))
  const frames = isWav ? (known?.frames ?? null) : (decoded?.frames ?? null)
  // An MPEG-4 file, for one, may say two channels and hold one: what was decoded counts.
  const channels = (isWav ? known?.channels : decoded?.channels) ?? known?.channels ?? null
  const sampleRateHz = (isWav ? known?.sampleRateHz : decoded?.sampleRateHz) ?? known?.sampleRateHz ?? null
  return {
    inspection: {
      ...reading.inspection,
      problem: null,
      sampleHash: LOSSY.includes(reading.kind) ? null : read.inspection.sampleHash,
      facts:
        known === null
          ? null
          : {
              ...known,
              channels,
              sampleRateHz,
              frames,
              seconds: frames !== null && sampleRateHz ? frames / sampleRateHz : known.seconds,
            },
      measures: read.inspection.measures,
    },
    peaks: read.peaks,
  }
}

function asForeign(decoded: AudioFacts): AudioFacts {
  return {
    ...decoded,
    container: 'other',
    coding: 'other',
    formatTag: null,
    bitDepth: null,
    validBits: null,
    chunks: [],
    defects: [],
  }
}

function undecoded(reading: SoundReading, facts: AudioFacts | null, error: AppError): InspectedSound {
  const message = `${error.what} ${error.mend}`
  const told = reading.kind === 'wav' ? message : `This is ${KIND_NAMES[reading.kind]}, not a WAV. ${message}`
  return {
    inspection: {
      ...reading.inspection,
      facts,
      measures: facts === null ? null : noMeasures('coding-not-decoded'),
      // A WAV in an odd coding has its facts and defects; that it cannot be measured stands in its reasons.
      problem: facts !== null && reading.kind === 'wav' ? null : { code: error.code, message: told },
    },
    peaks: null,
  }
}

async function withPath<T>(where: Where, use: (path: string) => Promise<T>): Promise<T> {
  if ('path' in where) return use(where.path)
  const { bytes } = where
  return withTemporaryFolder(async (folder) => {
    const path = join(folder, 'sound')
    await writeFile(path, bytes)
    return use(path)
  })
}
