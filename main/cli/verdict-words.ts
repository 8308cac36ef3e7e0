import type { Verdict } from '../../app/model/finding.ts'
import { counted } from './table.ts'

/** `ready`, `fixable: 2 errors, 1 warning`, `ready (2 limits unknown)`, `ready by prepared copies`. */
export function verdictWords(original: Verdict, prepared: Verdict | null = null): string {
  const verdict = prepared ?? original
  const counts = [
    verdict.errorCount > 0 ? counted(verdict.errorCount, 'error') : '',
    verdict.warningCount > 0 ? counted(verdict.warningCount, 'warning') : '',
  ].filter((part) => part !== '')
  const unknown =
    verdict.unknownLimitCount > 0 ? ` (${counted(verdict.unknownLimitCount, 'limit')} unknown)` : ''
  const word = prepared === null ? verdict.word : `${verdict.word} by prepared copies`
  return `${word}${counts.length === 0 ? '' : `: ${counts.join(', ')}`}${unknown}`
}
