import type { SoundPlace } from '../model/role.ts'

/** A place as people say it: `hum`, `clash 3`, `lockup, begin`, `swing, low layer, 2`. */
export function placeInWords(place: SoundPlace): string {
  const parts: string[] = []
  if (place.part !== 'body') parts.push(place.part)
  if (place.layer !== null) parts.push(`${place.layer} layer`)
  if (parts.length === 0) return place.number === null ? place.role : `${place.role} ${place.number}`
  if (place.number !== null) parts.push(String(place.number))
  return `${place.role}, ${parts.join(', ')}`
}

/** Key of a place without its number: sounds that share it are numbered together. */
export function placeKey(place: Pick<SoundPlace, 'role' | 'part' | 'layer'>): string {
  return `${place.role}|${place.part}|${place.layer ?? ''}`
}
