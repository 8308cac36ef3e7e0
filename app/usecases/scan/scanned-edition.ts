import type { Companion } from '../../model/sound.ts'
import type { ScannedEdition } from '../../ports/library-records.ts'
import { companionKind } from './file-kinds.ts'
import type { FoundEdition, TreeFile } from './find-editions.ts'
import type { EditionName } from './font-name.ts'
import type { GatheredEdition } from './gathered.ts'
import type { RoleReading } from './role-reading.ts'

/** What is known of a file's bytes; null where they could not be read. */
export type HashOf = (file: TreeFile) => { readonly sha256: string; readonly sizeBytes: number } | null

/**
 * An edition with the hashes of its files and the roles of its sounds; null where none of its sounds
 * could be read. Files that could not be read are left out, and told elsewhere.
 */
export function scannedEdition(
  found: FoundEdition,
  place: ScannedEdition['place'],
  name: EditionName,
  hashOf: HashOf,
  roles: RoleReading,
): GatheredEdition | null {
  const sounds = found.sounds.flatMap((file) => {
    const hashed = hashOf(file)
    return hashed === null ? [] : [{ path: file.path, sha256: hashed.sha256 }]
  })
  if (sounds.length === 0) return null
  const companions = found.companions.flatMap((file): Companion[] => {
    const hashed = hashOf(file)
    return hashed === null ? [] : [{ path: file.path, ...hashed, kind: companionKind(file.path) }]
  })
  const { schemeId, places } = roles.readRoles(sounds.map(({ path }) => path))
  return {
    place,
    fontName: name.name,
    version: name.version,
    proposedCreatorName: name.proposedCreatorName,
    schemeId,
    sounds: sounds.map((sound, at) => {
      const soundPlace = places[at] ?? null
      return { ...sound, place: soundPlace, roleSource: soundPlace === null ? null : 'scheme' }
    }),
    companions,
    litter: found.litter,
  }
}
