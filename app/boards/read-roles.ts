import type { SoundPlace } from '../model/role.ts'
import { readName } from './scheme.ts'
import type { Scheme } from './scheme.ts'

/** How the names of one edition read. */
export interface RolesRead {
  /** The scheme that reads the most names, and at least half of them; null where none does. */
  readonly schemeId: string | null
  /** One for each path, in the order given; all null where no scheme was found. */
  readonly places: readonly (SoundPlace | null)[]
}

/**
 * Reads the roles of an edition's sounds from their names.
 *
 * The scheme that reads the most names wins; of equals, the first in the list. One that reads less
 * than half is no scheme of this font: a few chance hits would hide that its roles are not known.
 * Paths are inside the edition, `/`-joined.
 */
export function readRoles(paths: readonly string[], schemes: readonly Scheme[]): RolesRead {
  let best: RolesRead = { schemeId: null, places: paths.map(() => null) }
  let most = 0
  for (const scheme of schemes) {
    const places = paths.map((path) => readName(scheme, path))
    const read = places.reduce((count, place) => count + (place === null ? 0 : 1), 0)
    if (read > most && read * 2 >= paths.length) {
      most = read
      best = { schemeId: scheme.id, places }
    }
  }
  return best
}
