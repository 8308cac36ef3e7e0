import type { Verdict } from '../../app/model/finding.ts'
import { counted } from './table.ts'

/** `ready`, `fixable: 2 errors, 1 warning`, with the number of limits that nobody knows. */
export function verdictWords(verdict: Verdict): string {
  const counts = [
    verdict.errorCount > 0 ? counted(verdict.errorCount, 'error') : '',
    verdict.warningCount > 0 ? counted(verdict.warningCount, 'warning') : '',
    verdict.unknownLimitCount > 0 ? counted(verdict.unknownLimitCount, 'unknown limit') : '',
  ].filter((part) => part !== '')
  return counts.length === 0 ? verdict.word : `${verdict.word}: ${counts.join(', ')}`
}
