import type { SoundPlace } from '../../model/role.ts'

/** How names are read for roles: the naming schemes that the workshop knows. */
export interface RoleReading {
  /** Changes whenever the same names would be read otherwise. */
  readonly key: string
  /** One place for each path, in their order; all null where no scheme reads enough of them. */
  readRoles(paths: readonly string[]): {
    readonly schemeId: string | null
    readonly places: readonly (SoundPlace | null)[]
  }
  /** Whether a folder's name spells a role. */
  isRoleName(word: string): boolean
}

/** Role reading as a scan is given it: what it is known by, and how it is made ready once names are read. */
export interface RolesOfScan extends Pick<RoleReading, 'key'> {
  open(): Promise<RoleReading>
}
