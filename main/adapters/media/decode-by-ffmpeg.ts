import type { SoundKind } from '../../../app/audio/sniff-kind.ts'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import type { AbortLike } from '../../../app/ports/progress.ts'
import { FfmpegFailure, runFfmpeg } from './run-ffmpeg.ts'

/** ffmpeg's name of the reader for each kind. */
const DEMUXERS: Readonly<Record<Exclude<SoundKind, 'other'>, string>> = {
  wav: 'wav',
  mp3: 'mp3',
  flac: 'flac',
  ogg: 'ogg',
  m4a: 'mov',
  aiff: 'aiff',
}
/** Kinds whose samples are whole numbers; the others decode to fractions. */
const WHOLE_NUMBERS: readonly SoundKind[] = ['wav', 'flac', 'aiff']
const LONGEST_MS = 120_000
/** A small file can unpack to no end; decoding stops here (3 hours of stereo in 32 bits). */
const MOST_BYTES = 4_000_000_000

/**
 * Decodes the first audio stream of a file into a WAV of 32-bit samples at `target`.
 * @throws AppError `sound/no-decoder` where ffmpeg cannot be run, `sound/not-decodable` where it refuses;
 *   Cancelled; an Error with the code `ENOSPC` where the disk has no room for it
 */
export function decodeByFfmpeg(
  path: string,
  kind: Exclude<SoundKind, 'other'>,
  target: string,
  cancel?: AbortLike,
): Promise<void> {
  const codec = WHOLE_NUMBERS.includes(kind) ? 'pcm_s32le' : 'pcm_f32le'
  return runFfmpeg({
    inputs: [{ path, reader: DEMUXERS[kind] }],
    outputs: [
      {
        path: target,
        options: [
          ...['-map', '0:a:0', '-map_metadata', '-1', '-c:a', codec],
          ...['-fs', String(MOST_BYTES), '-f', 'wav'],
        ],
      },
    ],
    longestMs: LONGEST_MS,
    ...(cancel === undefined ? {} : { cancel }),
  }).catch((error: unknown) => {
    if (!(error instanceof FfmpegFailure)) throw error
    if (error.cause === 'cancelled') throw new Cancelled()
    // It says nothing of the sound.
    if (error.cause === 'full') throw Object.assign(new Error(error.message), { code: 'ENOSPC' })
    throw refusal(error)
  })
}

function refusal(error: FfmpegFailure): AppError {
  const { lastLine } = error
  const said = lastLine === '' ? '' : ` (${lastLine})`
  return error.cause === 'missing'
    ? new AppError(
        {
          code: 'sound/no-decoder',
          what: 'ffmpeg could not be run, and this sound needs it.',
          where: '',
          mend: 'Install ffmpeg, or set CARDWRIGHT_FFMPEG to its path.',
          kind: 'machine',
        },
        { cause: error },
      )
    : new AppError(
        {
          code: 'sound/not-decodable',
          what:
            error.cause === 'hung'
              ? `ffmpeg came to no end with this sound and was ended${said}.`
              : `ffmpeg could not decode this sound${said}.`,
          where: '',
          mend: 'Fetch the file afresh, or convert it to WAV.',
        },
        { cause: error },
      )
}
