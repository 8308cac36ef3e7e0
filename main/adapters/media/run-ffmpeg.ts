import ffmpeg from 'fluent-ffmpeg'
import { resolve } from 'node:path'
import type { AbortLike } from '../../../app/ports/progress.ts'
import { ffmpegPath } from './ffmpeg-path.ts'
import { openHangLimit } from './hang-limit.ts'

/** One file to read. The reader is always forced: left to itself, ffmpeg takes text for a play list. */
export interface FfmpegInput {
  readonly path: string
  /** ffmpeg's name of the reader: `wav`, `flac`, `f32le` ... */
  readonly reader: string
  readonly options?: readonly string[]
}

export interface FfmpegOutput {
  readonly path: string
  readonly options: readonly string[]
}

export interface FfmpegRun {
  readonly inputs: readonly FfmpegInput[]
  readonly outputs: readonly FfmpegOutput[]
  /** A run that takes longer is ended. */
  readonly longestMs: number
  readonly cancel?: AbortLike
}

/** ffmpeg could not be run, came to no end in its time, was ended from outside, had no room to write, or refused. */
export class FfmpegFailure extends Error {
  override readonly cause: 'missing' | 'hung' | 'cancelled' | 'full' | 'refused'
  /** Last thing it said, for people. */
  readonly lastLine: string

  constructor(cause: FfmpegFailure['cause'], lastLine: string) {
    super(`ffmpeg: ${cause}${lastLine === '' ? '' : ` (${lastLine})`}`)
    this.name = 'FfmpegFailure'
    this.cause = cause
    this.lastLine = lastLine
  }
}

/** Nobody reads more of a line than this. */
const LONGEST_LINE = 200

/** Time to hear of a process that was ended. */
const GRACE_MS = 5000
const hangLimit = openHangLimit(() => performance.now())

/**
 * Before its first command fluent-ffmpeg 2.1.3 starts ffmpeg twice more, to survey its formats and
 * encoders, without a time limit and where no kill reaches them. Ours name what they need in their
 * options, and are told if it is not there.
 */
function leaveOutSurvey(command: object): void {
  Object.assign(command, {
    _checkCapabilities: (done: () => void) => done(),
    availableEncoders: (done: (error: null, found: object) => void) => done(null, {}),
  })
}

/**
 * Runs ffmpeg once. It gets absolute paths, forced readers, leave to open files and pipes only, and
 * no standard input. The only place that speaks to fluent-ffmpeg.
 * @throws FfmpegFailure
 */
export function runFfmpeg({ inputs, outputs, longestMs, cancel }: FfmpegRun): Promise<void> {
  return new Promise((done, fail) => {
    if (cancel?.aborted === true) {
      fail(new FfmpegFailure('cancelled', ''))
      return
    }
    const program = ffmpegPath()
    // Looked for beforehand: fluent-ffmpeg 2.1.3 throws past its caller where the program cannot be started.
    if (program === undefined) {
      fail(new FfmpegFailure('missing', ''))
      return
    }
    if (hangLimit.isReached()) {
      fail(new FfmpegFailure('hung', 'it hung time after time, and is left alone for some minutes'))
      return
    }
    let ended: FfmpegFailure['cause'] | undefined
    const command = ffmpeg({ logger: undefined }).setFfmpegPath(program)
    leaveOutSurvey(command)
    for (const { path, reader, options = [] } of inputs) {
      const always = ['-nostdin', '-protocol_whitelist', 'file,pipe', '-f', reader]
      command.input(resolve(path)).inputOptions([...always, ...options])
    }
    for (const { path, options } of outputs) command.output(resolve(path)).outputOptions([...options])
    const end = (cause: FfmpegFailure['cause']) => () => {
      ended ??= cause
      command.kill('SIGKILL')
      // Where the process could not even be started, nothing else would end the wait.
      setTimeout(() => fail(new FfmpegFailure(cause, '')), GRACE_MS).unref()
    }
    const limit = setTimeout(() => {
      hangLimit.hung()
      end('hung')()
    }, longestMs)
    const onCancel = end('cancelled')
    cancel?.addEventListener('abort', onCancel)
    const leave = () => {
      clearTimeout(limit)
      cancel?.removeEventListener('abort', onCancel)
    }
    command
      .on('end', () => {
        leave()
        hangLimit.ended()
        done()
      })
      .on('error', (error: Error, _: unknown, messages: string | null | undefined) => {
        leave()
        if (ended === undefined) hangLimit.ended()
        const isMissing = /ENOENT|EACCES|Cannot find ffmpeg/.test(error.message)
        const lastLine = isKilled(error) ? 'it was ended from outside' : lastLineOf(messages)
        fail(new FfmpegFailure(ended ?? causeOf(isMissing, messages), lastLine))
      })
      .run()
  })
}

/** As systems say it in ffmpeg's words, of which the last are others. */
const NO_ROOM = /No space left on device|Disk quota exceeded|File too large/

function causeOf(isMissing: boolean, messages: string | null | undefined): FfmpegFailure['cause'] {
  if (isMissing) return 'missing'
  return NO_ROOM.test(messages ?? '') ? 'full' : 'refused'
}

function isKilled({ message }: Error): boolean {
  return message.includes('killed with signal')
}

/** The last thing that ffmpeg said, without the part that said it. */
function lastLineOf(messages: string | null | undefined): string {
  const last = (messages ?? '').trim().split('\n').at(-1) ?? ''
  return last.replace(/^.*: /, '').slice(0, LONGEST_LINE)
}
