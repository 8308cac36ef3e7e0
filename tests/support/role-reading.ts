import { readRoles } from '../../app/boards/read-roles.ts'
import { isRoleName } from '../../app/boards/role-words.ts'
import type { RoleReading } from '../../app/usecases/scan/role-reading.ts'
import { shippedSchemes } from './shipped-schemes.ts'

/** Names read as the shipped schemes read them. */
export const shippedRoles: RoleReading = {
  key: 'shipped',
  readRoles: (paths) => readRoles(paths, shippedSchemes),
  isRoleName,
}
