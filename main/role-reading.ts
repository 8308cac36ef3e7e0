import { createHash } from 'node:crypto'
import { readRoles } from '../app/boards/read-roles.ts'
import { isRoleName } from '../app/boards/role-words.ts'
import type { RoleReading } from '../app/usecases/scan/role-reading.ts'
import type { LoadedScheme } from './adapters/files/scheme-files.ts'

/** How a scan reads roles: by the workshop's schemes, as this version of Cardwright reads them. */
export function roleReadingOf(loaded: readonly LoadedScheme[], productVersion: string): RoleReading {
  const schemes = loaded.map(({ scheme }) => scheme)
  const texts = JSON.stringify([productVersion, ...loaded.map(({ text }) => text)])
  return {
    key: createHash('sha256').update(texts).digest('hex'),
    readRoles: (paths) => readRoles(paths, schemes),
    isRoleName,
  }
}
