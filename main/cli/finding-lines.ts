import type { Finding } from '../../app/model/finding.ts'
import { printable } from './printable.ts'

/** A finding for people: what and where, then why it matters and how to mend it. */
export function findingLines(finding: Finding): readonly string[] {
  const where = finding.path === null ? '' : `${printable(finding.path)}: `
  return [
    `  ${finding.severity.padEnd(7)}  ${where}${printable(finding.message)}  [${finding.rule}]`,
    `           ${printable(`${finding.why} ${finding.mend}`)}`,
  ]
}
