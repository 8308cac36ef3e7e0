import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Board } from '../../model/board.ts'
import type { RecipeStep } from '../../model/recipe.ts'
import { alters } from './altering-steps.ts'
import { chosenNumber, findingOf, isDropped, type SoundToPrepare } from './sound-to-prepare.ts'

/** Depth of what is decoded from a coding that has none of its own. */
export const USUAL_BITS = 16

/**
 * The depth that samples are rounded to: where it is asked for, and wherever a step before leaves fractions.
 * Dither goes with it only where something is rounded away.
 * @param isRewritten whether the file is written anew in any case
 */
export function depthStep(
  sound: SoundToPrepare,
  board: Board,
  steps: readonly RecipeStep[],
  isRewritten: boolean,
): RecipeStep | null {
  if (isDropped(sound, 'bit-depth')) return null
  const own = ownDepth(sound)
  const altering = steps.find(alters)
  const chosen = chosenNumber(sound, 'bit-depth')
  const target =
    chosen ?? targetDepth(own ?? losslessBits(sound.facts), isFloat(sound), board.audio.bitDepths)
  const finding = findingOf(sound, 'bit-depth', 'coding', 'container')
  // What has no depth that we write must get one, where it is written at all.
  const isAsked = finding !== undefined || chosen !== undefined || (isRewritten && own === null)
  if (altering === undefined && (!isAsked || target === own)) return null
  const isWhole = sound.facts.coding === 'pcm' ? (sound.facts.validBits ?? own ?? 32) : wholeBits(sound.facts)
  const dither = altering !== undefined || isWhole > target ? 'tpdf' : 'none'
  return {
    action: { do: 'bit-depth', bitDepth: target, dither },
    rule: finding?.rule ?? altering?.rule ?? 'user',
    reason: finding?.message ?? `Samples are rounded to ${target} bit again.`,
  }
}

/** Depth of the samples where it is one that we write; null for all other codings. */
function ownDepth({ facts }: SoundToPrepare): number | null {
  return facts.coding === 'pcm' && [8, 16, 24, 32].includes(facts.bitDepth ?? 0) ? facts.bitDepth : null
}

/** Bits of the whole numbers that a decoder gives; more than any depth where it gives fractions. */
function wholeBits(facts: AudioFacts): number {
  if (facts.coding === 'alaw' || facts.coding === 'mulaw' || facts.coding === 'adpcm') return 16
  return losslessBits(facts) ?? Infinity
}

/** Depth of what a coding of another format keeps exactly; null where it keeps it only nearly. */
function losslessBits({ coding, tags, validBits }: AudioFacts): number | null {
  return coding === 'other' && /^(FLAC|ALAC|PCM)\b/.test(tags['format'] ?? '') ? validBits : null
}

/** The least depth that loses nothing, else the greatest there is. */
function targetDepth(own: number | null, isFraction: boolean, taken: readonly number[] | null): number {
  const usual = isFraction ? 24 : (own ?? USUAL_BITS)
  if (taken === null) return [8, 16, 24, 32].find((depth) => depth >= usual) ?? 32
  const above = taken.filter((depth) => depth >= usual)
  return above.length > 0 ? Math.min(...above) : Math.max(...taken)
}

/** Whether its samples are fractions, which may lie above full scale. */
export function isFloat({ facts }: SoundToPrepare): boolean {
  return facts.coding === 'float'
}
