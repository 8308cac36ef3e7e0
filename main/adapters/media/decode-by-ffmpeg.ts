import ffmpeg from 'fluent-ffmpeg'
import { resolve } from 'node:path'
import type { SoundKind } from '../../../app/audio/sniff-kind.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import { ffmpegPath } from './ffmpeg-path.ts'

/**
 * ffmpeg's name of the reader for each kind. It is always forced: left to itself, ffmpeg takes a text
 * file with a sound's name for a play list, and opens the files that it names.
 */
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
 * @throws AppError `sound/no-decoder` where ffmpeg cannot be run, `sound/not-decodable` where it refuses
 */
export function decodeByFfmpeg(
  path: string,
  kind: Exclude<SoundKind, 'other'>,
  target: string,
): Promise<void> {
  const program = ffmpegPath()
  // Looked for beforehand: fluent-ffmpeg 2.1.3 throws past its caller where the program cannot be started.
  if (program === undefined) return Promise.reject(noDecoder())
  const codec = WHOLE_NUMBERS.includes(kind) ? 'pcm_s32le' : 'pcm_f32le'
  return new Promise((done, fail) => {
    const command = ffmpeg({ logger: undefined })
      .setFfmpegPath(program)
      .input(resolve(path))
      .inputOptions(['-nostdin', '-protocol_whitelist', 'file,pipe', '-f', DEMUXERS[kind]])
      .outputOptions([
        '-map',
        '0:a:0',
        '-map_metadata',
        '-1',
        '-c:a',
        codec,
        '-fs',
        String(MOST_BYTES),
        '-f',
        'wav',
      ])
      .on('end', () => {
        clearTimeout(limit)
        done()
      })
      .on('error', (error: Error, _: unknown, messages: string | null | undefined) => {
        clearTimeout(limit)
        fail(refusal(error, messages ?? ''))
      })
    const limit = setTimeout(() => command.kill('SIGKILL'), LONGEST_MS)
    command.save(target)
  })
}

function noDecoder(): AppError {
  return new AppError({
    code: 'sound/no-decoder',
    what: 'ffmpeg could not be run, and this sound needs it.',
    where: '',
    mend: 'Install ffmpeg, or set CARDWRIGHT_FFMPEG to its path.',
    kind: 'machine',
  })
}

function refusal(error: Error, messages: string): AppError {
  const lastLine = messages.trim().split('\n').at(-1)?.replace(/^.*: /, '') ?? ''
  return new AppError(
    {
      code: 'sound/not-decodable',
      what: `ffmpeg could not decode this sound${lastLine === '' ? '' : ` (${lastLine})`}.`,
      where: '',
      mend: 'Fetch the file afresh, or convert it to WAV.',
    },
    { cause: error },
  )
}
