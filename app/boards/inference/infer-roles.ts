import { ROLES } from '../../model/role.ts'
import type { Role, SoundPlace } from '../../model/role.ts'
import type { SoundInspection } from '../../model/sound.ts'
import { nameTokens } from './name-tokens.ts'
import { readWords } from './read-words.ts'
import type { WordsRead } from './read-words.ts'
import { soundHints } from './sound-evidence.ts'

/** Below this confidence a guess is only a proposal, and the user is asked. */
export const ASK_BELOW = 0.7

/** A guess at what one sound is for. */
export interface RoleGuess {
  readonly path: string
  /** The likeliest place; null where nothing speaks for any. */
  readonly place: SoundPlace | null
  /** 0 to 1; at least `ASK_BELOW` is taken for granted until somebody says otherwise. */
  readonly confidence: number
  readonly isConfident: boolean
  /** Why, in words; what speaks against it too. */
  readonly reasons: readonly string[]
}

export interface SoundToGuess {
  readonly path: string
  /** Null where only the name is known. */
  readonly inspection: SoundInspection | null
}

/**
 * Guesses the roles of a font's sounds, from their names and from the sounds themselves. In the order
 * given. Equal-length swings that come in twos are told as layers; they are always asked about.
 */
export function inferRoles(sounds: readonly SoundToGuess[]): readonly RoleGuess[] {
  const guesses = sounds.map(guess)
  return withSwingPairs(sounds, guesses)
}

function guess({ path, inspection }: SoundToGuess): RoleGuess {
  const words = readWords(nameTokens(path))
  const hints = inspection === null ? [] : soundHints(inspection)
  const scores = new Map<Role, number>()
  if (words.fit !== null) scores.set(words.fit.role, words.fit.score)
  for (const { roles, weight } of hints) {
    for (const role of roles) {
      const named = scores.get(role)
      // What speaks for a role that nothing names is a proposal at most; what speaks against one lowers it.
      if (named !== undefined) scores.set(role, Math.max(0, named + weight * (weight > 0 ? 0.3 : 1)))
      else if (weight > 0) scores.set(role, weight / (roles.length > 2 ? 1.2 : 1))
    }
  }
  const [best] = [...scores].sort((a, b) => b[1] - a[1] || ROLES.indexOf(a[0]) - ROLES.indexOf(b[0]))
  if (best === undefined) return { path, place: null, confidence: 0, isConfident: false, reasons: [] }
  const [role, score] = best
  const confidence = Math.max(0, Math.min(1, score - doubt(words, role)))
  const told = hints.filter((hint) => hint.roles.includes(role)).map((hint) => hint.because)
  const isNamed = words.fit?.role === role
  const place: SoundPlace = isNamed
    ? { role, part: words.part, layer: words.layer, number: words.number }
    : { role, part: 'body', layer: null, number: words.number }
  return {
    path,
    place,
    confidence,
    isConfident: confidence >= ASK_BELOW,
    reasons: [...(isNamed ? words.reasons : ['its name says nothing that is known']), ...told],
  }
}

/** How much the runner-up among the words takes away: nothing where it is far behind. */
function doubt(words: WordsRead, role: Role): number {
  if (words.fit?.role !== role) return 0
  const lead = words.fit.score - words.runnerUp
  return words.runnerUp < 0.5 ? 0 : Math.max(0, 0.45 - 2 * lead)
}

/** Two swings of one length, alike but for one letter or word, are likely the layers of one. */
function withSwingPairs(
  sounds: readonly SoundToGuess[],
  guesses: readonly RoleGuess[],
): readonly RoleGuess[] {
  const byLength = new Map<number, number[]>()
  guesses.forEach(({ place }, index) => {
    const frames = sounds[index]?.inspection?.facts?.frames ?? null
    if (
      place?.role !== 'swing' ||
      place.layer !== null ||
      place.part !== 'body' ||
      frames === null ||
      frames === 0
    )
      return
    byLength.set(frames, [...(byLength.get(frames) ?? []), index])
  })
  const changed = new Map<number, RoleGuess>()
  for (const indexes of byLength.values()) {
    const [a, b] = indexes
    if (indexes.length !== 2 || a === undefined || b === undefined) continue
    const share = (index: number): number | null => sounds[index]?.inspection?.measures?.lowShare ?? null
    const [shareA, shareB] = [share(a), share(b)]
    if (shareA === null || shareB === null || Math.abs(shareA - shareB) < 0.1) continue
    const lower = shareA > shareB ? a : b
    for (const index of [a, b]) {
      const old = guesses[index]
      if (old?.place === undefined || old.place === null) continue
      const layer = index === lower ? 'low' : 'high'
      changed.set(index, {
        ...old,
        place: { ...old.place, layer },
        confidence: Math.min(old.confidence, ASK_BELOW - 0.1),
        isConfident: false,
        reasons: [
          ...old.reasons,
          `another swing is exactly as long, and this one sounds ${index === lower ? 'lower' : 'higher'}`,
        ],
      })
    }
  }
  return guesses.map((each, index) => changed.get(index) ?? each)
}
