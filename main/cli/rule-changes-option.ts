import { InvalidArgumentError, type Command } from 'commander'
import { AppError } from '../../app/errors/app-error.ts'
import { WEIGHTS, type RuleChange, type Weight } from '../../app/model/finding.ts'

/** One `--rule`: what a build makes of a rule; null takes that back, so that the board's word holds. */
interface RuleWord {
  readonly rule: string
  readonly severity: Weight | null
}

/** What `--rule` and `--reason` said. */
export interface RuleOptions {
  readonly rule?: readonly RuleWord[]
  readonly reason?: string
}

/** Adds `--rule` and `--reason`. */
export function withRuleChanges(command: Command): Command {
  return command
    .option(
      '--rule <rule=severity>',
      `weigh a rule anew for this build: ${WEIGHTS.join(', ')}; empty (level=) takes that back; repeat it for more`,
      (value: string, earlier: readonly RuleWord[] | undefined) => [...(earlier ?? []), readRuleWord(value)],
    )
    .option('--reason <text>', 'why; it is shown with every finding of these rules')
}

function readRuleWord(text: string): RuleWord {
  const sign = text.indexOf('=')
  const rule = text.slice(0, Math.max(0, sign)).trim()
  const word = text.slice(sign + 1).trim()
  const severity = WEIGHTS.find((each) => each === word)
  if (rule === '' || (severity === undefined && word !== '')) {
    throw new InvalidArgumentError(
      `Write it as RULE=SEVERITY, with one of ${WEIGHTS.join(', ')}; \`boards rules\` lists all rules.`,
    )
  }
  return { rule, severity: severity ?? null }
}

/**
 * The rules that a build changes, after these options.
 * @returns undefined where the options tell of none
 * @throws AppError `rule/no-reason`, `rule/not-changed`
 */
export function changedRules(
  before: readonly RuleChange[],
  { rule: words, reason }: RuleOptions,
): readonly RuleChange[] | undefined {
  if (words === undefined) {
    if (reason === undefined) return undefined
    throw unusable(
      'rule/none-named',
      'A reason was told, and no rule.',
      '--reason',
      'Name the rule with --rule.',
    )
  }
  const changes = new Map(before.map((change) => [change.rule, change]))
  for (const { rule, severity } of words) {
    if (severity === null) {
      if (changes.delete(rule)) continue
      throw unusable(
        'rule/not-changed',
        'The build changes no such rule.',
        rule,
        '`builds show` lists what it changes.',
      )
    }
    const why = reason?.trim() ?? ''
    if (why === '') {
      throw unusable(
        'rule/no-reason',
        'A rule is changed only with a reason, which is shown with what it finds.',
        rule,
        'Tell it with --reason TEXT.',
      )
    }
    changes.set(rule, { rule, severity, reason: why })
  }
  return [...changes.values()]
}

function unusable(code: string, what: string, where: string, mend: string): AppError {
  return new AppError({ code, what, where, mend })
}
