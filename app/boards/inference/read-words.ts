import type { Layer, Part, Role } from '../../model/role.ts'
import { layerLetter, modifierOf } from './modifier-words.ts'
import type { NameToken } from './name-tokens.ts'
import { wordFits } from './word-score.ts'
import type { WordFit } from './word-score.ts'

/** What the words of a name say, best reading and runner-up. */
export interface WordsRead {
  readonly fit: WordFit | null
  /** Score of the best other role; 0 where there is none. */
  readonly runnerUp: number
  readonly part: Part
  readonly layer: Layer | null
  readonly number: number | null
  readonly reasons: readonly string[]
}

/** A stretch of one to three neighbouring tokens as a role, with what was joined to it. */
interface Stretch {
  readonly from: number
  readonly to: number
  readonly fit: WordFit
  /** Letters that ran into the word: `swinglow`, `lockupend`. */
  readonly joined: string
}

/** A folder says less than the file's own name. */
const FOLDER_WEIGHT = 0.93
const MOST_DIGITS = 6
/** Least score of a word that something else ran into. */
const LEAST_SPLIT = 0.92

/**
 * Reads role, part, layer and number from the tokens of a path. Neighbouring words are also tried
 * joined (`low cell`, `lock up`), and one word also split into a role and what ran into it.
 */
export function readWords(tokens: readonly NameToken[]): WordsRead {
  const stretches = tokens.flatMap((_token, from) => stretchesFrom(tokens, from))
  const weighted = stretches
    .map((stretch) => ({ ...stretch, weight: weightOf(stretch, tokens) }))
    .sort((a, b) => b.weight - a.weight || b.to - b.from - (a.to - a.from))
  const best = weighted[0]
  if (best === undefined)
    return { fit: null, runnerUp: 0, part: 'body', layer: null, number: lastNumber(tokens), reasons: [] }
  const covers = (other: Stretch): boolean => other.from >= best.from && other.to <= best.to
  // A shorter reading of the very same letters is no rival, unless it is for them alone: `low` of `low cell`.
  const rival = weighted.find((each) => each.fit.role !== best.fit.role && !covers(each))
  const sameLetters = weighted.find(
    (each) => each.fit.role !== best.fit.role && each.from === best.from && each.to === best.to,
  )
  const runnerUp = Math.max(rival?.weight ?? 0, sameLetters?.weight ?? 0)
  const beside = tokens.filter((_token, index) => index < best.from || index >= best.to)
  const { part, layer, reasons } = modifiersOf(best.fit.role, beside, best.joined)
  const place =
    best.from < tokens.length && (tokens[best.from]?.depth ?? 0) > 0 ? ' (in the folder’s name)' : ''
  return {
    fit: { ...best.fit, score: best.weight },
    runnerUp,
    part,
    layer,
    number: numberOf(tokens, best.to),
    reasons: [`${best.fit.because}${place}`, ...reasons],
  }
}

function weightOf(stretch: Stretch, tokens: readonly NameToken[]): number {
  const folder = (tokens[stretch.from]?.depth ?? 0) > 0 ? FOLDER_WEIGHT : 1
  return stretch.fit.score * folder
}

function stretchesFrom(tokens: readonly NameToken[], from: number): readonly Stretch[] {
  const first = tokens[from]
  if (first === undefined || first.isNumber) return []
  const found: Stretch[] = []
  let joined = ''
  for (let to = from + 1; to <= Math.min(tokens.length, from + 3); to++) {
    const token = tokens[to - 1]
    if (token === undefined || token.isNumber || token.depth !== first.depth) break
    joined += token.text
    for (const fit of wordFits(joined)) {
      // Several words only make one where they spell it in full or nearly so; `lo` and `ck` do not.
      const isOneWord = to - from === 1 || fit.score >= 0.9 || fit.isKindred === true
      if (isOneWord) found.push({ from, to, fit: asModifier(joined, fit), joined: '' })
    }
    if (to - from === 1) found.push(...splitFits(joined).map((split) => ({ from, to, ...split })))
  }
  return found
}

/** `low`, `end` and their like are words of their own: as beginnings of a role they are a proposal at most. */
function asModifier(text: string, fit: WordFit): WordFit {
  return modifierOf(text) !== null && fit.score < 0.97 ? { ...fit, score: 0.45 } : fit
}

/** A whole word, with vowels or without, and a part or layer run into it; a word's beginning could be anything. */
function splitFits(text: string): readonly { fit: WordFit; joined: string }[] {
  const found: { fit: WordFit; joined: string }[] = []
  for (let at = 2; at <= text.length - 1; at++) {
    const [head, tail] = [text.slice(0, at), text.slice(at)]
    const sides = [
      { word: head, rest: tail },
      { word: tail, rest: head },
    ]
    for (const { word, rest } of sides) {
      const letter = layerLetter(rest)
      if ((modifierOf(rest) === null && letter === null) || modifierOf(word) !== null) continue
      for (const fit of wordFits(word)) {
        if (fit.score < LEAST_SPLIT || (letter !== null && fit.role !== 'swing')) continue
        found.push({ fit: { ...fit, score: fit.score - (letter === null ? 0.03 : 0.1) }, joined: rest })
      }
    }
  }
  return found
}

function modifiersOf(
  role: Role,
  beside: readonly NameToken[],
  joined: string,
): { part: Part; layer: Layer | null; reasons: readonly string[] } {
  let part: Part | null = null
  let layer: Layer | null = null
  const reasons: string[] = []
  const words = [...(joined === '' ? [] : [{ text: joined, depth: 0 }]), ...beside]
  for (const { text } of [...words].sort((a, b) => a.depth - b.depth)) {
    const modifier = modifierOf(text)
    if (modifier?.kind === 'part' && part === null) {
      part = modifier.part
      reasons.push(`“${text}” says ${part === 'body' ? 'the middle stretch' : part}`)
    }
    const letter = role === 'swing' ? (modifier?.kind === 'layer' ? modifier.layer : layerLetter(text)) : null
    if (letter !== null && layer === null) {
      layer = letter
      reasons.push(`“${text}” says the ${layer} layer`)
    }
  }
  return { part: layer === null ? (part ?? 'body') : 'body', layer, reasons }
}

/** The number after the role's word, else the last of the file's own name, else that of its folder. */
function numberOf(tokens: readonly NameToken[], after: number): number | null {
  const counts = tokens.map((token, index) => token.isNumber && !isOtherNumber(tokens, index))
  const inFile = tokens.map((token, index) => (token.depth === 0 && counts[index] === true ? index : -1))
  const next = inFile.find((index) => index >= after)
  const last = inFile.findLast((index) => index >= 0)
  const chosen = tokens[next ?? last ?? counts.indexOf(true)]
  return chosen === undefined || chosen.text.length > MOST_DIGITS ? null : Number(chosen.text)
}

/** Numbers of versions, rates and depths: `v2`, `44k`, `16 bit`. */
function isOtherNumber(tokens: readonly NameToken[], index: number): boolean {
  const before = tokens[index - 1]?.text ?? ''
  const after = tokens[index + 1]?.text ?? ''
  return /^(v|ver|version|rev)$/.test(before) || /^(k|khz|hz|bit|bits|ch|db)$/.test(after)
}

function lastNumber(tokens: readonly NameToken[]): number | null {
  return numberOf(tokens, 0)
}
