import { path as installedPath } from '@ffmpeg-installer/ffmpeg'
import { accessSync, constants } from 'node:fs'
import { delimiter, isAbsolute, join, resolve } from 'node:path'

/**
 * Which ffmpeg decodes what we do not: the user's own choice (`CARDWRIGHT_FFMPEG`, a path or a name on
 * the PATH), else `ffmpeg` on the PATH, else the one that comes with Cardwright (a build of 2018).
 * @returns a file that may be run; undefined where the choice is none, or none is there
 */
export function ffmpegPath(environment: NodeJS.ProcessEnv = process.env): string | undefined {
  const chosen = environment.CARDWRIGHT_FFMPEG
  if (chosen !== undefined && chosen !== '') return found(chosen, environment)
  return found('ffmpeg', environment) ?? found(installedPath, environment)
}

function found(program: string, environment: NodeJS.ProcessEnv): string | undefined {
  if (isAbsolute(program) || program.includes('/')) return mayRun(program) ? resolve(program) : undefined
  const name = process.platform === 'win32' && !program.endsWith('.exe') ? `${program}.exe` : program
  const folders = (environment.PATH ?? '').split(delimiter).filter((folder) => isAbsolute(folder))
  return folders.map((folder) => join(folder, name)).find(mayRun)
}

function mayRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
