import type { AbortLike } from '../../../app/ports/progress.ts'
import { runFfmpeg } from './run-ffmpeg.ts'

/** Bare 32-bit floats in one file, to be converted into another. */
export interface ResampleItem {
  readonly inPath: string
  readonly outPath: string
  readonly inHz: number
  readonly outHz: number
  readonly channels: number
  readonly frames: number
}

/** Time that starting takes, and a frame at worst: a machine under load is ten times slower than usual. */
const START_MS = 60_000
const FRAMES_A_MS = 100

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
    inputs: items.map(({ inPath, inHz, channels }) => ({
      path: inPath,
      reader: 'f32le',
      options: ['-ar', String(inHz), '-ac', String(channels)],
    })),
    outputs: items.map(({ outPath, outHz }, index) => ({
      path: outPath,
      options: [
        ...['-map', `${index}:a`, '-af', `aresample=${outHz}:${how}`],
        ...['-c:a', 'pcm_f32le', '-f', 'f32le', '-y'],
      ],
    })),
    longestMs: START_MS + items.reduce((sum, { frames }) => sum + frames, 0) / FRAMES_A_MS,
    cancel,
  })
}
