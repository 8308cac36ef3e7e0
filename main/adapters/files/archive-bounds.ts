/**
 * Bounds of reading archives. They are held while unpacking, since headers may lie, and are wide
 * enough for what fonts are really sold as.
 */

/** A maker's whole work is a few thousand files; ten thousand leave room. */
export const MOST_ENTRIES = 10_000
/** Archives inside one another, the outer one counted: a shop's bundle of fonts, each packed by itself. */
export const DEEPEST_ARCHIVES = 2
/** One archive, with all inside it, unpacks to at most as much as the largest file a card takes. */
export const MOST_UNPACKED_BYTES = 4 * 2 ** 30
/** Held in memory whole; 25 minutes of 44.1 kHz 16-bit mono. */
export const LARGEST_ENTRY_BYTES = 128 * 2 ** 20
/** Sounds pack to half or a third. Silence packs a thousandfold, so the first stretch is free of it. */
export const MOST_RATIO = 100
export const RATIO_FREE_BYTES = 8 * 2 ** 20
