import type { Verdict } from '../model/finding.ts'
import { oneOrMore } from './in-words.ts'

/**
 * A verdict with its counts: `ready`, `fixable: 2 errors, 1 warning`, `ready (2 limits unknown)`, `ready by prepared copies`.
 * @param prepared of the font's prepared copies, which a card gets in its place; null where there are none
 */
export function verdictWords(original: Verdict, prepared: Verdict | null = null): string {
  const verdict = prepared ?? original
  const counts = [
    verdict.errorCount > 0 ? oneOrMore(verdict.errorCount, 'error') : '',
    verdict.warningCount > 0 ? oneOrMore(verdict.warningCount, 'warning') : '',
  ].filter((part) => part !== '')
  const unknown =
    verdict.unknownLimitCount > 0 ? ` (${oneOrMore(verdict.unknownLimitCount, 'limit')} unknown)` : ''
  const word = prepared === null ? verdict.word : `${verdict.word} by prepared copies`
  return `${word}${counts.length === 0 ? '' : `: ${counts.join(', ')}`}${unknown}`
}
