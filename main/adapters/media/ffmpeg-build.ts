import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { ffmpegPath } from './ffmpeg-path.ts'

export interface FfmpegBuild {
  /** As it names itself: `5.1.6-0+deb12u1`. */
  readonly version: string
  readonly hasSoxr: boolean
}

const LONGEST_MS = 30_000

/** Which ffmpeg would be run; undefined where there is none, or it cannot say. */
export async function ffmpegBuild(): Promise<FfmpegBuild | undefined> {
  const program = ffmpegPath()
  if (program === undefined) return undefined
  try {
    const { stdout } = await promisify(execFile)(program, ['-hide_banner', '-version'], {
      timeout: LONGEST_MS,
      killSignal: 'SIGKILL',
    })
    const version = /^ffmpeg version (\S+)/.exec(stdout)?.[1]
    return version === undefined ? undefined : { version, hasSoxr: stdout.includes('--enable-libsoxr') }
  } catch {
    return undefined
  }
}
