import type { Board } from '../model/board.ts'
import { SEVERITIES } from '../model/finding.ts'
import type { Finding, RuleChange, Severity, Verdict, Weight } from '../model/finding.ts'
import type { Edition } from '../model/library.ts'
import { unknownLimitCount } from './board-words.ts'
import { CARD_RULES, FONT_RULES } from './rules/all-rules.ts'
import type { CardLook } from './rules/card-look.ts'
import { lookAtFont } from './rules/font-look.ts'
import { isOnlySeen } from './rules/most-seen.ts'
import type { JudgeContext } from './rules/font-look.ts'
import type { Miss } from './rules/rule.ts'
import { severityOf } from './rules/severities.ts'
import type { RuleId } from './rules/severities.ts'

/** Mend of the note that a rule which is switched off leaves. */
export const SWITCHED_OFF_MEND = 'Nothing to do while the reason holds.'

/** What judging one font came to. */
export interface Judged {
  /** Gravest first, then by path. */
  readonly findings: readonly Finding[]
  readonly verdict: Verdict
}

/**
 * Judges one font for a board. Pure: the same values give the same findings.
 *
 * A most that was only seen playing is no proof that more fails: passing it is at most a warning.
 * A rule that the board or the build switched off leaves one note with the reason where it would
 * have found something; one weighed anew carries the reason in each finding.
 */
export function judgeEdition(edition: Edition, board: Board, context: JudgeContext): Judged {
  const look = lookAtFont(edition, board, context)
  const findings = FONT_RULES.flatMap((rule) => weigh(rule.id, rule.judge(look), board, context)).sort(
    byGravity,
  )
  return { findings, verdict: verdictOf(findings, look.isRecognised, board) }
}

/** Judges what concerns all fonts of a card together. */
export function judgeCard(look: CardLook): readonly Finding[] {
  return CARD_RULES.flatMap((rule) => weigh(rule.id, rule.judge(look), look.board, look.context)).sort(
    byGravity,
  )
}

/** `unrecognised` before all: without roles nothing says whether the font would play. */
export function verdictOf(findings: readonly Finding[], isRecognised: boolean, board: Board): Verdict {
  const count = (severity: Severity): number => findings.filter((each) => each.severity === severity).length
  const errors = findings.filter((each) => each.severity === 'error')
  const recognised =
    errors.length === 0 ? 'ready' : errors.every((each) => each.fixable) ? 'fixable' : 'blocked'
  return {
    word: isRecognised ? recognised : 'unrecognised',
    errorCount: errors.length,
    warningCount: count('warning'),
    noteCount: count('note'),
    unknownLimitCount: unknownLimitCount(board),
  }
}

function weigh(
  rule: RuleId,
  misses: readonly Miss[],
  board: Board,
  context: Pick<JudgeContext, 'inPlace' | 'changes'>,
): readonly Finding[] {
  if (misses.length === 0) return []
  const change = changeOf(rule, board, context.changes ?? [])
  if (change === null) {
    const usual = severityOf(rule, context.inPlace)
    return misses.map(({ mostOf, ...miss }) =>
      isOnlySeen(board, mostOf)
        ? {
            rule,
            ...miss,
            severity: usual === 'error' ? 'warning' : usual,
            why: `More was never tried on this board: try it in the hilt. Where it fails: ${miss.why}`,
          }
        : { rule, severity: usual, ...miss },
    )
  }
  const { severity } = change
  if (severity !== 'off') {
    const told = `Weighed as ${severity} by the ${change.by}: ${asSentence(change.reason)}`
    return misses.map(({ mostOf: _mostOf, ...miss }) => ({
      rule,
      severity,
      ...miss,
      why: `${miss.why} ${told}`,
    }))
  }
  return [
    {
      rule,
      severity: 'note',
      path: null,
      message: `This rule is switched off by the ${change.by}; it would have ${misses.length === 1 ? 'one finding' : `${misses.length} findings`}.`,
      why: `The reason given: ${asSentence(change.reason)}`,
      mend: SWITCHED_OFF_MEND,
      fixable: true,
      measured: misses.length,
      limit: null,
    },
  ]
}

function asSentence(reason: string): string {
  return /[.!?…]$/.test(reason) ? reason : `${reason}.`
}

/** The build's word goes before the board's. */
function changeOf(
  rule: RuleId,
  board: Board,
  ofBuild: readonly RuleChange[],
): { severity: Weight; reason: string; by: 'board' | 'build' } | null {
  const byBuild = ofBuild.find((change) => change.rule === rule)
  if (byBuild) return { severity: byBuild.severity, reason: byBuild.reason, by: 'build' }
  const byBoard = board.rules[rule]
  return byBoard === undefined ? null : { ...byBoard, by: 'board' }
}

function byGravity(a: Finding, b: Finding): number {
  return (
    SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) ||
    byText(a.path ?? '', b.path ?? '') ||
    byText(a.rule, b.rule)
  )
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
