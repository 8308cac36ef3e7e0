import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { removeLeftBehind } from './left-behind.ts'
import { MARK_PATTERN, OWN_MARK } from './process-mark.ts'

/** How every folder of ours among the system's temporary files begins. */
export const OWN_TEMPORARY = `cardwright-${OWN_MARK}-`

const TEMPORARY = new RegExp(`^cardwright-${MARK_PATTERN}-`)

let tidied: Promise<void> | undefined

/**
 * Lends a folder among the system's temporary files and removes it whatever happens. The first time,
 * those are removed that a killed process left: a decoded sound can have gigabytes.
 */
export async function withTemporaryFolder<T>(use: (folder: string) => Promise<T>): Promise<T> {
  await (tidied ??= removeLeftBehind(tmpdir(), (name) => Number(TEMPORARY.exec(name)?.[1] ?? NaN)))
  const folder = await mkdtemp(join(tmpdir(), OWN_TEMPORARY))
  try {
    return await use(folder)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}
