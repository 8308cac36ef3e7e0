import { placeKey } from '../place-words.ts'
import type { FontLook, PlacedSound } from './font-look.ts'

/** A low and a high layer of one number; one of the two may be missing. */
export interface Pair {
  readonly low: PlacedSound | null
  readonly high: PlacedSound | null
}

/** The layered swings of a font, by number. */
export function pairsOf({ placed }: FontLook): readonly Pair[] {
  const pairs = new Map<string, { low: PlacedSound | null; high: PlacedSound | null }>()
  for (const each of placed) {
    const { layer } = each.place
    if (layer === null) continue
    const key = `${placeKey({ ...each.place, layer: null })}|${each.place.number ?? ''}`
    const pair = pairs.get(key) ?? { low: null, high: null }
    pair[layer] ??= each
    pairs.set(key, pair)
  }
  return [...pairs.values()]
}
