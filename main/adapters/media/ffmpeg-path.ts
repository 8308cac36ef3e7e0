import { path as installedPath } from '@ffmpeg-installer/ffmpeg'
import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'

/**
 * Which ffmpeg decodes what we do not: the user's own choice (`CARDWRIGHT_FFMPEG`), else `ffmpeg` on
 * the PATH, else the one that comes with Cardwright (a static build of 2018).
 */
export function ffmpegPath(environment: NodeJS.ProcessEnv = process.env): string {
  const chosen = environment.CARDWRIGHT_FFMPEG
  if (chosen !== undefined && chosen !== '') return chosen
  const name = process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg'
  const folders = (environment.PATH ?? '').split(delimiter).filter((folder) => folder !== '')
  return folders.map((folder) => join(folder, name)).find(mayRun) ?? installedPath
}

function mayRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
