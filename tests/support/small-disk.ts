import { spawnSync } from 'node:child_process'
import { onTestFinished, test } from 'vitest'
import { referencesRequired } from './reference-tools.ts'
import { temporaryFolder } from './temporary-folder.ts'

/** Only root may mount; whether it may here is found out by trying. */
const canMount = process.platform === 'linux' && tried()

/**
 * A `test` that needs a disk of its own: reported as skipped ("not run") where none can be mounted, and
 * failing instead where `CARDWRIGHT_REQUIRE_REFERENCES` is 1.
 */
export const testOnSmallDisk: typeof test | typeof test.skip =
  canMount || referencesRequired ? test : test.skip

/** A folder on a disk of so many bytes, in memory; gone with the test. */
export function smallDisk(sizeBytes: number): string {
  const folder = temporaryFolder()
  const result = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${sizeBytes}`, 'tmpfs', folder])
  if (result.status !== 0) throw new Error(`no small disk could be mounted: ${String(result.stderr)}`)
  onTestFinished(() => void spawnSync('umount', ['-l', folder]))
  return folder
}

function tried(): boolean {
  return (
    process.getuid?.() === 0 &&
    spawnSync('unshare', ['-m', 'mount', '-t', 'tmpfs', 'tmpfs', '/mnt']).status === 0
  )
}
