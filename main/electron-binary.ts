import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { resourcesFolder } from './adapters/files/resources-folder.ts'

/**
 * Electron's binary; undefined while it is not there, or where there is no screen to show a window
 * on. Never asked by importing the package: resolving it starts a download.
 */
export function electronBinary(
  env: Readonly<Record<string, string | undefined>> = process.env,
): string | undefined {
  if (process.platform === 'linux' && !env['DISPLAY'] && !env['WAYLAND_DISPLAY']) return undefined
  const folder = join(dirname(resourcesFolder()), 'node_modules', 'electron')
  const pathFile = join(folder, 'path.txt')
  if (!existsSync(pathFile)) return undefined
  const binary = join(folder, 'dist', readFileSync(pathFile, 'utf8').trim())
  return existsSync(binary) ? binary : undefined
}
