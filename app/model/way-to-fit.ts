import { inUnits } from './in-units.ts'

/** One change that would make a card fit by itself. */
export type WayToFit =
  /** Prepared copies in the place of originals that are larger than the board wants them. */
  | { readonly kind: 'prepare'; readonly sounds: number; readonly freesBytes: number }
  /** The most seconds that a piece of music may last for all to fit, and how many last longer. */
  | {
      readonly kind: 'shorter-music'
      readonly longestSeconds: number
      readonly sounds: number
      readonly freesBytes: number
    }
  /** Other clusters waste less behind each file; whether the board takes them is for the user to say. */
  | { readonly kind: 'cluster-size'; readonly clusterBytes: number; readonly freesBytes: number }
  /** The fewest fonts, and of single fonts the smallest that is enough; names as they were given. */
  | { readonly kind: 'leave-out'; readonly fonts: readonly string[]; readonly freesBytes: number }
  | { readonly kind: 'larger-card'; readonly imageBytes: number }

/** `without "Ember Loom" (12.3 MiB)`: what is to follow "It would fit". */
export function wayInWords(way: WayToFit): string {
  switch (way.kind) {
    case 'prepare':
      return `with prepared copies of ${way.sounds === 1 ? 'one sound' : `${way.sounds} sounds`} (${inUnits(way.freesBytes)} less)`
    case 'shorter-music':
      return `with no music longer than ${way.longestSeconds} s (${way.sounds === 1 ? 'one piece is' : `${way.sounds} pieces are`}: shorten it in a sound editor, or leave it out of the build; ${inUnits(way.freesBytes)} less)`
    case 'cluster-size':
      return `with clusters of ${inUnits(way.clusterBytes)}, if the board takes them`
    case 'leave-out':
      return `without ${way.fonts.map((name) => `"${name}"`).join(' and ')} (${inUnits(way.freesBytes)})`
    case 'larger-card':
      return `on a card of ${way.imageBytes} bytes (${inUnits(way.imageBytes)}) or more`
  }
}
