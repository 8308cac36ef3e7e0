import type { EditionIdentity } from '../../ports/library-records.ts'

/** An edition as a scan found it, by what it can be known again. */
export interface EditionSeen {
  /** Absolute path of the folder or archive. */
  readonly path: string
  readonly innerPath: string | null
  /** Its sounds, in any order. */
  readonly sounds: readonly { readonly path: string; readonly sha256: string }[]
}

/**
 * Tells which known edition each found one is; null for a new one.
 *
 * The same sounds are the same edition, wherever they lie: moved, renamed or copied. Of several known
 * ones with the same sounds, the one that lay here. Two copies whose files are called differently are
 * two editions, each made for a board of its own. An edition whose sounds are nowhere else is known by
 * its place, and has changed.
 */
export function matchEditions(
  seen: readonly EditionSeen[],
  known: readonly EditionIdentity[],
): readonly (string | null)[] {
  const { byPlace, bySounds } = indexed(known)
  const bySame = seen.map((edition) => {
    const same = edition.sounds.length === 0 ? [] : (bySounds.get(soundsKey(edition)) ?? [])
    const here = byPlace.get(placeKey(edition))
    return same.find((id) => id === here) ?? same[0] ?? null
  })
  const firstNames = namesById(seen, bySame, byPlace)
  const matched = bySame.map((id, at) => {
    const edition = seen[at]
    return id === null || edition === undefined || firstNames.get(id) !== namesKey(edition) ? null : id
  })
  // What its sounds have found elsewhere is not also what has taken its old place.
  const taken = new Set(matched)
  return matched.map((id, at) => {
    const edition = seen[at]
    if (id !== null || edition === undefined) return id
    const here = byPlace.get(placeKey(edition))
    return here === undefined || taken.has(here) ? null : here
  })
}

/**
 * Which of the new editions are copies of an earlier one in the list, by its position: the same
 * sounds by the same names. Null for the others.
 */
export function copiesAmong(
  seen: readonly EditionSeen[],
  ids: readonly (string | null)[],
): readonly (number | null)[] {
  const first = new Map<string, number>()
  return seen.map((edition, at) => {
    if (ids[at] !== null || edition.sounds.length === 0) return null
    const key = `${soundsKey(edition)}\0${namesKey(edition)}`
    const earlier = first.get(key)
    if (earlier === undefined) first.set(key, at)
    return earlier ?? null
  })
}

interface Indexed {
  readonly byPlace: ReadonlyMap<string, string>
  readonly bySounds: ReadonlyMap<string, readonly string[]>
}

function indexed(known: readonly EditionIdentity[]): Indexed {
  const byPlace = new Map<string, string>()
  const bySounds = new Map<string, string[]>()
  for (const { editionId, places, soundHashes } of known) {
    for (const place of places) byPlace.set(placeKey(place), editionId)
    if (soundHashes.length === 0) continue
    const key = soundHashes.toSorted().join()
    const others = bySounds.get(key)
    if (others === undefined) bySounds.set(key, [editionId])
    else others.push(editionId)
  }
  return { byPlace, bySounds }
}

/** How the files are called in the one copy of each edition that stays it: the one at its place, else the first. */
function namesById(
  seen: readonly EditionSeen[],
  ids: readonly (string | null)[],
  byPlace: ReadonlyMap<string, string>,
): ReadonlyMap<string, string> {
  const names = new Map<string, string>()
  const atHome = new Set<string>()
  for (const [at, edition] of seen.entries()) {
    const id = ids[at] ?? null
    if (id === null || atHome.has(id)) continue
    const isHome = byPlace.get(placeKey(edition)) === id
    if (isHome) atHome.add(id)
    if (isHome || !names.has(id)) names.set(id, namesKey(edition))
  }
  return names
}

function placeKey({ path, innerPath }: { readonly path: string; readonly innerPath: string | null }): string {
  return innerPath === null ? path : `${path}\0${innerPath}`
}

function soundsKey({ sounds }: EditionSeen): string {
  return sounds
    .map(({ sha256 }) => sha256)
    .sort()
    .join()
}

function namesKey({ sounds }: EditionSeen): string {
  return sounds
    .map(({ path }) => path)
    .sort()
    .join('\0')
}
