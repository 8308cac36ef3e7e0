import { KINDRED_WORDS, ROLE_WORDS } from '../role-words.ts'
import type { Role } from '../../model/role.ts'
import { editDistance } from '../edit-distance.ts'

/** How well a word fits a role, and why, in words. */
export interface WordFit {
  readonly role: Role
  /** 0 to 1. */
  readonly score: number
  readonly because: string
  /** A word of plain English that is often meant so. */
  readonly isKindred?: boolean
}

/** Fewest letters that can stand for a word. */
const LEAST_LETTERS = 3

const WORDS = [...ROLE_WORDS].map(([word, role]) => ({
  word,
  role,
  plain: role.replace('-', ''),
  skeleton: withoutVowels(word),
}))

/**
 * How well one stretch of letters fits each role, best first; roles that it does not fit are left out.
 *
 * | likeness | score |
 * |---|---|
 * | the trade's word, or a form of it (plural, past, what is done) | 1 / 0.97 |
 * | its beginning, at least three letters | 0.78 to 0.95 by the share of the word that is there |
 * | the word without its vowels | 0.92 |
 * | the beginning of that, at least three letters | 0.8 |
 * | one slip after the first letter, in a word of at least five | 0.75 |
 * | it begins with a word of at least four letters, and goes on otherwise | 0.55 |
 * | plain English that is often meant so (`impact`, `power on`) | 0.45 |
 *
 * The weights are our own; a generated corpus holds them (tests/unit/boards/inference).
 */
export function wordFits(text: string): readonly WordFit[] {
  const best = new Map<Role, WordFit>()
  const offer = (role: Role, score: number, because: string): void => {
    if (score > (best.get(role)?.score ?? 0)) best.set(role, { role, score, because })
  }
  for (const { word, role, plain, skeleton } of WORDS) {
    if (text === word) offer(role, word === plain ? 1 : 0.97, `“${text}” is a word for ${role}`)
    if (text.length < LEAST_LETTERS) continue
    if (word.startsWith(text) && text.length < word.length) {
      // A form's own beginning beyond the plain word is as good as the form.
      const share = Math.min(1, text.length / plain.length)
      offer(role, 0.78 + 0.17 * share, `“${text}” is the beginning of ${word}`)
    }
    if (skeleton.length >= LEAST_LETTERS) {
      if (text === skeleton) offer(role, 0.92, `“${text}” is ${word} without its vowels`)
      else if (skeleton.startsWith(text))
        offer(role, 0.8, `“${text}” is the beginning of ${word} without its vowels`)
    }
    // Another first letter makes another word: slash is no clash.
    if (
      word.length >= 5 &&
      word[0] === text[0] &&
      Math.abs(word.length - text.length) <= 1 &&
      editDistance(word, text) === 1
    ) {
      offer(role, 0.75, `“${text}” is ${word} with one slip`)
    }
    if (word.length >= 4 && text.startsWith(word)) offer(role, 0.55, `“${text}” begins with ${word}`)
  }
  const kindred = KINDRED_WORDS.get(text)
  if (kindred !== undefined && !best.has(kindred)) {
    const because = `“${text}” is often said for ${kindred}`
    best.set(kindred, { role: kindred, score: 0.45, because, isKindred: true })
  }
  return [...best.values()].sort((a, b) => b.score - a.score)
}

/** The word's first letter and all later consonants. */
function withoutVowels(word: string): string {
  return word.slice(0, 1) + word.slice(1).replace(/[aeiou]/g, '')
}
