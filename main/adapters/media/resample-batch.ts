import type { AbortLike } from '../../../app/ports/progress.ts'
import { runFfmpeg } from './run-ffmpeg.ts'

/** Samples in one file, to be converted into another of bare 32-bit floats. */
export interface ResampleItem {
  readonly inPath: string
  /** How they lie there, by ffmpeg's name, and how many bytes come before them. */
  readonly reader: 'f32le' | 's16le' | 's24le' | 's32le'
  readonly skipBytes: number
  readonly outPath: string
  readonly inHz: number
  readonly outHz: number
  readonly channels: number
  readonly frames: number
  /** Silence that is to follow them. */
  readonly padFrames: number
}

/** Time that starting takes, and a frame at worst: a machine under load is ten times slower than usual. */
const START_MS = 60_000
const FRAMES_A_MS = 100
/** Frames that pass the filters together: each passing has its cost, and ffmpeg reads a thousand at a time. */
const PACKET_FRAMES = 16_384

/**
 * Converts sample rates, all items in one run of ffmpeg: starting it costs more than most sounds do.
 * soxr at 28 bits works in doubles; ffmpeg's own resampler, where soxr is missing, gets a long filter.
 * Each item has a resampler of its own, so that its samples do not depend on its neighbours.
 * @throws FfmpegFailure
 */
export async function resampleBatch(
  items: readonly ResampleItem[],
  { hasSoxr, cancel }: { readonly hasSoxr: boolean; readonly cancel: AbortLike },
): Promise<void> {
  if (items.length === 0) return
  const how = hasSoxr ? 'resampler=soxr:precision=28' : 'filter_size=256:phase_shift=12:cutoff=0.95'
  await runFfmpeg({
    inputs: items.map(({ inPath, reader, skipBytes, inHz, channels }) => ({
      path: inPath,
      reader,
      options: [
        // No thread for each input: handing over every small packet between two costs more than reading it.
        ...['-thread_queue_size', '0'],
        ...['-ar', String(inHz), '-ac', String(channels)],
        ...(skipBytes > 0 ? ['-skip_initial_bytes', String(skipBytes)] : []),
      ],
    })),
    outputs: items.map(({ outPath, outHz, frames, padFrames }, index) => ({
      path: outPath,
      options: [
        ...['-map', `${index}:a`],
        ...[
          '-af',
          `asetnsamples=n=${PACKET_FRAMES}:p=0,atrim=end_sample=${frames},apad=pad_len=${padFrames},aresample=${outHz}:${how}`,
        ],
        ...['-c:a', 'pcm_f32le', '-f', 'f32le', '-y'],
      ],
    })),
    longestMs: START_MS + items.reduce((sum, { frames }) => sum + frames, 0) / FRAMES_A_MS,
    cancel,
  })
}
