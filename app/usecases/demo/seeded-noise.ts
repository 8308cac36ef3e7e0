/** Gives the next value of white noise, from -1 (inclusive) to 1. */
export type Noise = () => number

/**
 * Noise that is the same on every machine: whole-number arithmetic modulo 2^32 only.
 * Source: Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), shifts 13, 17, 5.
 */
export function seededNoise(seed: number): Noise {
  // Xorshift stays at nought for ever once it is there; neighbouring seeds are spread apart.
  let state = Math.imul(seed | 0, 0x9e3779b1) ^ 0x5bd1e995
  if (state === 0) state = 1
  return () => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    return (state | 0) / 2_147_483_648
  }
}

/** A seed from a text, so that each file of a font sounds a little different. Source: FNV-1a, 32 bits. */
export function seedOfText(text: string, base: number): number {
  let hash = 0x811c9dc5 ^ base
  for (let at = 0; at < text.length; at++) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193)
  return hash >>> 0
}
