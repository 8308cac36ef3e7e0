import type { Verdict } from '../../app/model/finding.ts'
import { counted } from './table.ts'

/** `ready`, `fixable: 2 errors, 1 warning`, `ready (2 limits unknown)`. */
export function verdictWords(verdict: Verdict): string {
  const counts = [
    verdict.errorCount > 0 ? counted(verdict.errorCount, 'error') : '',
    verdict.warningCount > 0 ? counted(verdict.warningCount, 'warning') : '',
  ].filter((part) => part !== '')
  const unknown =
    verdict.unknownLimitCount > 0 ? ` (${counted(verdict.unknownLimitCount, 'limit')} unknown)` : ''
  return `${verdict.word}${counts.length === 0 ? '' : `: ${counts.join(', ')}`}${unknown}`
}
