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
 * What a name ends with says how a sound is coded, not what it is for: `music.mp3` reads as `music.wav`
 * would, unless that lies beside it.
 * Paths are inside the edition, `/`-joined.
 */
export function readRoles(paths: readonly string[], schemes: readonly Scheme[]): RolesRead {
  let best: RolesRead = { schemeId: null, places: paths.map(() => null) }
  let most = 0
  const spelled = asWavNames(paths)
  for (const scheme of schemes) {
    const places = spelled.map((path) => (path === null ? null : readName(scheme, path)))
    const read = places.reduce((count, place) => count + (place === null ? 0 : 1), 0)
    if (read > most && read * 2 >= paths.length) {
      most = read
      best = { schemeId: scheme.id, places }
    }
  }
  return best
}

const ENDING = /\.[^./]{2,5}$/

/** Names as schemes spell them; null for one whose sound is there as a WAV too. */
function asWavNames(paths: readonly string[]): readonly (string | null)[] {
  const known = new Set(paths.map((path) => path.toLowerCase()))
  return paths.map((path) => {
    if (path.toLowerCase().endsWith('.wav')) return path
    const name = path.replace(ENDING, '.wav')
    return known.has(name.toLowerCase()) ? null : name
  })
}
