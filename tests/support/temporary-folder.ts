import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { onTestFinished } from 'vitest'

/** A folder for one test; it goes when the test is over. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'cardwright-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** Writes files below a folder, making the folders they lie in. */
export function writeFiles(folder: string, files: Readonly<Record<string, Uint8Array | string>>): void {
  for (const [path, contents] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true })
    writeFileSync(join(folder, path), contents)
  }
}
