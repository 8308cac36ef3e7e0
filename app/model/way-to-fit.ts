import { inUnits } from './in-units.ts'

/** One change that would make a card fit by itself. */
export type WayToFit =
  /** Other clusters waste less behind each file; whether the board takes them is for the user to say. */
  | { readonly kind: 'cluster-size'; readonly clusterBytes: number; readonly freesBytes: number }
  /** The fewest fonts, and of single fonts the smallest that is enough; names as they were given. */
  | { readonly kind: 'leave-out'; readonly fonts: readonly string[]; readonly freesBytes: number }
  | { readonly kind: 'larger-card'; readonly imageBytes: number }

/** `without "Ember Loom" (12.3 MiB)`: what is to follow "It would fit". */
export function wayInWords(way: WayToFit): string {
  switch (way.kind) {
    case 'cluster-size':
      return `with clusters of ${inUnits(way.clusterBytes)}, if the board takes them`
    case 'leave-out':
      return `without ${way.fonts.map((name) => `"${name}"`).join(' and ')} (${inUnits(way.freesBytes)})`
    case 'larger-card':
      return `on a card of ${way.imageBytes} bytes (${inUnits(way.imageBytes)}) or more`
  }
}
