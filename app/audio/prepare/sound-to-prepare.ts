import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Finding } from '../../model/finding.ts'
import type { Measures } from '../../model/measures.ts'
import type { RecipeStepName } from '../../model/recipe.ts'
import type { SoundPlace } from '../../model/role.ts'

/** A sound of a font with what a recipe is chosen by. */
export interface SoundToPrepare {
  readonly path: string
  readonly sha256: string
  readonly place: SoundPlace
  readonly facts: AudioFacts
  readonly measures: Measures | null
  /** What the board's rules say of this sound. */
  readonly findings: readonly Finding[]
  /** The user's own words on steps: null drops one, a number takes the place of its own. */
  readonly choices: ReadonlyMap<RecipeStepName, number | null>
  /** Whether these bytes came out of a recipe for this very board: then nothing is done to them. */
  readonly isPrepared: boolean
}

/** The first finding of a sound by one of these rules. */
export function findingOf(sound: SoundToPrepare, ...rules: readonly string[]): Finding | undefined {
  return sound.findings.find(({ rule }) => rules.includes(rule))
}

/** Whether the user's word leaves a step out for a sound. */
export function isDropped(sound: SoundToPrepare, step: RecipeStepName): boolean {
  return sound.choices.get(step) === null
}

/** The number that the user set for a step. */
export function chosenNumber(sound: SoundToPrepare, step: RecipeStepName): number | undefined {
  return sound.choices.get(step) ?? undefined
}

/** The layered swing that plays together with this one; one without a sound in it plays with none. */
export function partnerOf(
  sound: SoundToPrepare,
  sounds: readonly SoundToPrepare[],
): SoundToPrepare | undefined {
  const { layer, role, part, number } = sound.place
  if (layer === null) return undefined
  return sounds.find(
    ({ place, facts }) =>
      (facts.frames ?? 0) > 0 &&
      place.layer !== null &&
      place.layer !== layer &&
      place.role === role &&
      place.part === part &&
      place.number === number,
  )
}
