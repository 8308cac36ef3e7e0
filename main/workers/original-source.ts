import { readFile, writeFile } from 'node:fs/promises'
import { decodedSource } from '../../app/audio/prepare/decoded-source.ts'
import type { SampleSource } from '../../app/audio/prepare/sample-source.ts'
import { sniffKind } from '../../app/audio/sniff-kind.ts'
import { openWav } from '../../app/audio/wav/open-wav.ts'
import type { AudioFacts } from '../../app/model/audio-facts.ts'
import type { WavReading } from '../../app/audio/wav/read-wav.ts'
import { ENCODING_BYTES, isKernelReady, type SampleLayout } from '../../app/audio/wav/sample-layout.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import { decodeByFfmpeg } from '../adapters/media/decode-by-ffmpeg.ts'
import { decodeByWavefile, wavefileDecodes } from '../adapters/media/decode-by-wavefile.ts'
import type { LyingSamples } from './rate-files.ts'
import { openFileSource, type OpenByteSource } from './file-byte-source.ts'

export interface OpenSamples {
  readonly source: SampleSource
  /** Of whole-number samples as they lie: 8, 16, 24 or 32; 32 for fractions. */
  readonly bitDepth: number
  /** Where another program can read the same samples; undefined where only ours can. */
  readonly lying: LyingSamples | undefined
  /** Harmless when called again. */
  close(): void
}

const HEAD_BYTES = 4096

/**
 * The samples of an original. What our reader does not decode is decoded into a WAV at `decodedPath`
 * first, which is the caller's to remove.
 * @throws AppError `sound/no-samples`, `sound/no-decoder`, `sound/not-decodable`, and what Node throws;
 *   Cancelled while another program decodes
 */
export async function openOriginal(
  path: string,
  decodedPath: string,
  cancel: AbortLike,
): Promise<OpenSamples> {
  const file = openFileSource(path)
  let isKept = false
  try {
    const head = new Uint8Array(HEAD_BYTES)
    const read = readHead(file, head)
    if (read?.layout !== undefined) {
      const samples = samplesOf(file, read, path)
      isKept = true
      return samples
    }
    const kind = read === undefined ? sniffKind(head) : 'wav'
    const pcm =
      read !== undefined && wavefileDecodes(read.facts, file.sizeBytes)
        ? decodeByWavefile(new Uint8Array(await readFile(path)), read.facts)
        : undefined
    if (pcm !== undefined) await writeFile(decodedPath, pcm)
    else if (kind === 'other') throw noSamples()
    else await decodeByFfmpeg(path, kind, decodedPath, cancel)
  } finally {
    if (!isKept) file.close()
  }
  return openDecoded(decodedPath)
}

function readHead(file: OpenByteSource, head: Uint8Array): WavReading | undefined {
  return openWav(file, head.subarray(0, file.readInto(head, 0)))
}

function samplesOf(file: OpenByteSource, { layout, facts }: WavReading, path: string): OpenSamples {
  if (layout === undefined || layout.frames === 0) throw noSamples()
  return {
    source: decodedSource(file, layout),
    bitDepth: 8 * Math.min(4, ENCODING_BYTES[layout.encoding]),
    lying: lyingAt(path, layout, facts),
    close: closeOnce(file),
  }
}

const READERS = { s16: 's16le', s24: 's24le', s32: 's32le' } as const

/** Whole numbers in the order that other programs know; floats may hold what is no sound. */
function lyingAt(path: string, layout: SampleLayout, facts: AudioFacts): LyingSamples | undefined {
  const { encoding, dataAt } = layout
  const isKnown = encoding === 's16' || encoding === 's24' || encoding === 's32'
  if (!isKnown || !isKernelReady(layout)) return undefined
  // Of what has a fault, and of many channels, another reader may think otherwise.
  const isPlainWav = facts.container === 'riff' && facts.defects.length === 0 && layout.channels <= 2
  return { path, reader: READERS[encoding], skipBytes: dataAt, isPlainWav }
}

/** A handle's number is given to the next file: closing it twice would close that. */
export function closeOnce(file: OpenByteSource): () => void {
  let isOpen = true
  return () => {
    if (isOpen) file.close()
    isOpen = false
  }
}

function openDecoded(decodedPath: string): OpenSamples {
  const file = openFileSource(decodedPath)
  try {
    const read = readHead(file, new Uint8Array(HEAD_BYTES))
    if (read === undefined) throw noSamples()
    return samplesOf(file, read, decodedPath)
  } catch (error) {
    file.close()
    throw error
  }
}

function noSamples(): AppError {
  return new AppError({
    code: 'sound/no-samples',
    what: 'There are no samples in it that could be prepared.',
    where: '',
    mend: 'Fetch the file again from where it came, or leave it out.',
  })
}
