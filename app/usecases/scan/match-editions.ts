import type { EditionIdentity } from '../../ports/library-records.ts'

/** An edition as a scan found it, by what it can be known again. */
export interface EditionSeen {
  /** Absolute path of the folder or archive. */
  readonly path: string
  readonly innerPath: string | null
  /** SHA-256 of each sound, in any order. */
  readonly soundHashes: readonly string[]
}

/**
 * Tells which known edition each found one is; null for a new one.
 *
 * The same sounds are the same edition, wherever they lie and whatever they are called: moved, renamed
 * or copied. Of several known ones with the same sounds, the one that lay here. An edition whose sounds
 * are nowhere else is known by its place, and has changed.
 */
export function matchEditions(
  seen: readonly EditionSeen[],
  known: readonly EditionIdentity[],
): readonly (string | null)[] {
  const byPlace = new Map<string, string>()
  const bySounds = new Map<string, string[]>()
  for (const { editionId, places, soundHashes } of known) {
    for (const place of places) byPlace.set(placeKey(place), editionId)
    if (soundHashes.length === 0) continue
    const key = soundsKey(soundHashes)
    const others = bySounds.get(key)
    if (others === undefined) bySounds.set(key, [editionId])
    else others.push(editionId)
  }
  const bySame = seen.map((edition) => {
    const same = edition.soundHashes.length === 0 ? [] : (bySounds.get(soundsKey(edition.soundHashes)) ?? [])
    const here = byPlace.get(placeKey(edition))
    return same.find((id) => id === here) ?? same[0] ?? null
  })
  // What its sounds have found elsewhere is not also what has taken its old place.
  const taken = new Set(bySame)
  return bySame.map((id, at) => {
    const edition = seen[at]
    if (id !== null || edition === undefined) return id
    const here = byPlace.get(placeKey(edition))
    return here === undefined || taken.has(here) ? null : here
  })
}

function placeKey({ path, innerPath }: { readonly path: string; readonly innerPath: string | null }): string {
  return innerPath === null ? path : `${path}\0${innerPath}`
}

function soundsKey(hashes: readonly string[]): string {
  return hashes.toSorted().join()
}
