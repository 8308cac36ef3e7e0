import { spawnSync } from 'node:child_process'
import { statSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * Compiles the C program on libebur128.
 * @returns its path; undefined where there is no compiler or no library
 */
export function compiledPeer(folder: string): string | undefined {
  const source = fileURLToPath(new URL('./loudness-peer.c', import.meta.url))
  const binary = join(folder, 'loudness-peer')
  const built = statSync(binary, { throwIfNoEntry: false })
  if (built !== undefined && built.mtimeMs > statSync(source).mtimeMs) return binary
  const compile = spawnSync('cc', ['-O3', '-march=native', '-o', binary, source, '-lebur128', '-lpthread'])
  return compile.status === 0 ? binary : undefined
}

export const PEER_MISSING = 'libebur128-dev and a C compiler are not installed'
