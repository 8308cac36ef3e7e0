import { nearestWord } from '../boards/edit-distance.ts'
import { RULE_IDS } from '../boards/rules/severities.ts'
import { AppError } from '../errors/app-error.ts'
import type { RuleChange } from '../model/finding.ts'

/**
 * Changes of rules as a build keeps them: sorted by rule.
 * @throws AppError `rule/unknown`, `rule/twice`
 */
export function keptRuleChanges(changes: readonly RuleChange[]): readonly RuleChange[] {
  const sorted = changes.toSorted((a, b) => (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0))
  for (const [index, { rule }] of sorted.entries()) {
    refuseUnknownRule(rule)
    if (sorted[index + 1]?.rule === rule) {
      throw new AppError({
        code: 'rule/twice',
        what: 'The rule is changed twice.',
        where: rule,
        mend: 'Change each rule once.',
      })
    }
  }
  return sorted
}

function refuseUnknownRule(rule: string): void {
  if (RULE_IDS.some((id) => id === rule)) return
  const nearest = nearestWord(rule, RULE_IDS)
  throw new AppError({
    code: 'rule/unknown',
    what: 'There is no rule of this name.',
    where: rule,
    mend: nearest === null ? '`boards rules` lists all rules.' : `Did you mean "${nearest}"?`,
  })
}
