import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { NONCE_PLACEHOLDER } from '../../main/window-files.ts'

/** A built window of one page, one script and one file that is not to be served; a secret beside it. */
export function writtenWindowFolder(): { readonly folder: string; readonly base: string } {
  const base = mkdtempSync(join(tmpdir(), 'cardwright-window-'))
  const folder = join(base, 'renderer')
  mkdirSync(join(folder, 'assets'), { recursive: true })
  writeFileSync(
    join(folder, 'index.html'),
    `<!doctype html><html><head><meta property="csp-nonce" nonce="${NONCE_PLACEHOLDER}"></head></html>`,
  )
  writeFileSync(join(folder, 'assets', 'window.js'), 'export {}')
  writeFileSync(join(folder, 'assets', 'window.js.map'), '{}')
  writeFileSync(join(base, 'secret.js'), 'a secret beside the bundle')
  return { folder, base }
}
