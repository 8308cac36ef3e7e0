import type { AbortLike } from '../../../app/ports/progress.ts'
import type { FfmpegAbilities } from './ffmpeg-build.ts'
import { runFfmpeg, type FfmpegInput } from './run-ffmpeg.ts'

/** Samples in one file, to be converted into another of bare 32-bit floats. */
export interface ResampleItem {
  readonly inPath: string
  /** How they lie there, by ffmpeg's name, and how many bytes come before them. */
  readonly reader: 'f32le' | 's16le' | 's24le' | 's32le'
  readonly skipBytes: number
  /** Whether the file is a WAV in which every reader finds the same samples. */
  readonly isPlainWav: boolean
  readonly outPath: string
  readonly inHz: number
  readonly outHz: number
  readonly channels: number
  readonly frames: number
  /** Silence that is to follow them. */
  readonly padFrames: number
  /** What they will be rounded to in the end. */
  readonly bitDepth: number
}

/** Time that starting takes, and a frame at worst: a machine under load is ten times slower than usual. */
const START_MS = 60_000
const FRAMES_A_MS = 100
/**
 * Frames that pass the filters together: each passing has its cost. ffmpeg's readers of bare samples
 * give a thousand at a time, which is a third of the time of all; its reader of WAV files can give more.
 */
const PACKET_FRAMES = 8192

/**
 * Converts sample rates, all items in one run of ffmpeg: starting it costs more than most sounds do.
 * ffmpeg's own resampler, where soxr is missing, gets a long filter.
 * Each item has a resampler of its own, so that its samples do not depend on its neighbours.
 * @throws FfmpegFailure
 */
export async function resampleBatch(
  items: readonly ResampleItem[],
  { abilities, cancel }: { readonly abilities: FfmpegAbilities; readonly cancel: AbortLike },
): Promise<void> {
  if (items.length === 0) return
  await runFfmpeg({
    inputs: items.map((item) => inputOf(item, abilities)),
    outputs: items.map((item, index) => ({
      path: item.outPath,
      options: [
        ...['-map', `${index}:a`],
        ...['-af', filtersOf(item, abilities)],
        ...['-c:a', 'pcm_f32le', '-f', 'f32le', '-y'],
      ],
    })),
    longestMs: START_MS + items.reduce((sum, { frames }) => sum + frames, 0) / FRAMES_A_MS,
    cancel,
  })
}

function isReadAsWav({ isPlainWav }: ResampleItem, { readsLargePackets }: FfmpegAbilities): boolean {
  return isPlainWav && readsLargePackets
}

function inputOf(item: ResampleItem, abilities: FfmpegAbilities): FfmpegInput {
  const { inPath: path, reader, skipBytes, inHz, channels } = item
  // No thread for each input: handing over every small packet between two costs more than reading it.
  const always = ['-thread_queue_size', '0']
  if (isReadAsWav(item, abilities)) {
    const packetBytes = PACKET_FRAMES * channels * BYTES[reader]
    // What the samples are is known: looking for other codings in them takes as long as converting them.
    const asTold = ['-probesize', '2048', '-analyzeduration', '0', '-c:a', `pcm_${reader}`]
    return { path, reader: 'wav', options: [...always, ...asTold, '-max_size', String(packetBytes)] }
  }
  const skip = skipBytes > 0 ? ['-skip_initial_bytes', String(skipBytes)] : []
  return { path, reader, options: [...always, '-ar', String(inHz), '-ac', String(channels), ...skip] }
}

const BYTES = { f32le: 4, s16le: 2, s24le: 3, s32le: 4 } as const

function filtersOf(item: ResampleItem, abilities: FfmpegAbilities): string {
  const { frames, padFrames, outHz, bitDepth } = item
  return [
    ...(isReadAsWav(item, abilities) ? [] : [`asetnsamples=n=${PACKET_FRAMES}:p=0`]),
    `atrim=end_sample=${frames}`,
    `apad=pad_len=${padFrames}`,
    `aresample=${outHz}:${resampler(abilities, bitDepth)}`,
  ].join(',')
}

/**
 * soxr by the accuracy it is asked for, in bits: at 28 it works in doubles, at 20 in singles, in two
 * thirds of the time. Its errors stay four bits below the noise that rounding to 16 bit leaves.
 */
export const SOXR_BITS = { upTo16: 20, above: 28 } as const

function resampler({ hasSoxr }: FfmpegAbilities, bitDepth: number): string {
  if (!hasSoxr) return 'filter_size=256:phase_shift=12:cutoff=0.95'
  return `resampler=soxr:precision=${bitDepth <= 16 ? SOXR_BITS.upTo16 : SOXR_BITS.above}`
}
