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
  /** As it names itself: `5.1.6-0+deb12u1`; null where it does not say, and is used as if it could do least. */
  readonly version: string | null
}

/** libavformat of ffmpeg 5.0, whose WAV reader has the option `max_size`. */
const LARGE_PACKETS_SINCE = 59

const LONGEST_MS = 30_000

/**
 * Which ffmpeg would be run; undefined where there is none.
 * @param ending ends one that has not answered yet
 */
export async function ffmpegBuild(ending: AbortSignal): Promise<FfmpegBuild | undefined> {
  const program = ffmpegPath()
  if (program === undefined) return undefined
  const said = await saidOfVersion(program, ending)
  const version = /^ffmpeg version (\S+)/.exec(said)?.[1]
  if (version === undefined) return { version: null, hasSoxr: false, readsLargePackets: false }
  const libavformat = Number(/^libavformat\s+(\d+)\./m.exec(said)?.[1] ?? 0)
  return {
    version,
    hasSoxr: said.includes('--enable-libsoxr'),
    readsLargePackets: libavformat >= LARGE_PACKETS_SINCE,
  }
}

/** Empty where it says nothing in time, or fails: what it can do is seen when it is to do it. */
async function saidOfVersion(program: string, ending: AbortSignal): Promise<string> {
  try {
    const { stdout } = await promisify(execFile)(program, ['-hide_banner', '-version'], {
      timeout: LONGEST_MS,
      killSignal: 'SIGKILL',
      signal: ending,
    })
    return stdout
  } catch {
    return ''
  }
}
