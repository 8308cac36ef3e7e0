/** What a sound is for. The order is the play order inside a font. */
export const ROLES = [
  'hum',
  'ignite',
  'retract',
  'swing',
  'clash',
  'deflect',
  'lockup',
  'drag',
  'melt',
  'boot',
  'announce',
  'music',
  'low-cell',
  'other',
] as const
export type Role = (typeof ROLES)[number]

/** Which stretch of a role a sound is, in play order; `body` unless a name tells otherwise. */
export const PARTS = ['before', 'begin', 'body', 'end', 'after'] as const
export type Part = (typeof PARTS)[number]

/** Swings that the board mixes come as pairs: one layer each. */
export const LAYERS = ['low', 'high'] as const
export type Layer = (typeof LAYERS)[number]

/** The place of a sound in its font, as a naming scheme spells it. */
export interface SoundPlace {
  readonly role: Role
  readonly part: Part
  readonly layer: Layer | null
  /** As written in the name; null where the name carries no number. */
  readonly number: number | null
}

/** How a sound came by its role. */
export type RoleSource = 'scheme' | 'inferred' | 'user'

/**
 * Whether a sound of this place repeats: hums, layered swings, and the body of lockup, drag and melt.
 */
export function isLoop(place: SoundPlace): boolean {
  if (place.role === 'hum') return place.part === 'body'
  if (place.role === 'swing') return place.layer !== null
  return (place.role === 'lockup' || place.role === 'drag' || place.role === 'melt') && place.part === 'body'
}

/** Orders places as a board plays them: role, part, layer, number; unnumbered first. */
export function comparePlaces(a: SoundPlace, b: SoundPlace): number {
  return (
    ROLES.indexOf(a.role) - ROLES.indexOf(b.role) ||
    PARTS.indexOf(a.part) - PARTS.indexOf(b.part) ||
    layerRank(a.layer) - layerRank(b.layer) ||
    (a.number ?? -1) - (b.number ?? -1)
  )
}

function layerRank(layer: Layer | null): number {
  return layer === null ? -1 : LAYERS.indexOf(layer)
}
