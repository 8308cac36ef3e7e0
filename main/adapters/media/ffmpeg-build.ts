import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { ffmpegPath } from './ffmpeg-path.ts'

/** What an ffmpeg can do that ours of 2018 could not, or others are built without. */
export interface FfmpegAbilities {
  readonly hasSoxr: boolean
  /** Whether its reader of WAV files can be told how much to read at a time. */
  readonly readsLargePackets: boolean
}

export interface FfmpegBuild extends FfmpegAbilities {
  /** As it names itself: `5.1.6-0+deb12u1`. */
  readonly version: string
}

/** libavformat of ffmpeg 5.0, whose WAV reader has the option `max_size`. */
const LARGE_PACKETS_SINCE = 59

const LONGEST_MS = 30_000

/**
 * Which ffmpeg would be run; undefined where there is none, or it cannot say.
 * @param ending ends one that has not answered yet
 */
export async function ffmpegBuild(ending: AbortSignal): Promise<FfmpegBuild | undefined> {
  const program = ffmpegPath()
  if (program === undefined) return undefined
  try {
    const { stdout } = await promisify(execFile)(program, ['-hide_banner', '-version'], {
      timeout: LONGEST_MS,
      killSignal: 'SIGKILL',
      signal: ending,
    })
    const version = /^ffmpeg version (\S+)/.exec(stdout)?.[1]
    if (version === undefined) return undefined
    const libavformat = Number(/^libavformat\s+(\d+)\./m.exec(stdout)?.[1] ?? 0)
    return {
      version,
      hasSoxr: stdout.includes('--enable-libsoxr'),
      readsLargePackets: libavformat >= LARGE_PACKETS_SINCE,
    }
  } catch {
    return undefined
  }
}
