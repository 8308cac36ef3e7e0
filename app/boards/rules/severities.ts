import type { Severity } from '../../model/finding.ts'

/** How grave a rule's findings are, and why so. */
export interface RuleSeverity {
  readonly severity: Severity
  /** On a card as found nothing is renamed or renumbered any more, so that some rules weigh more there. */
  readonly inPlace?: Severity
  readonly because: string
}

/**
 * Severity of every rule; written before the rules, and the only place that says it.
 *
 * `error`: the board will fail. `warning`: it will sound or behave badly. `note`: worth knowing; what
 * the plan of a card renames, renumbers or leaves out by itself is never more. Licence rules are at
 * most warnings: what is unpaid never stops a card.
 */
export const SEVERITIES_BY_RULE = {
  unreadable: { severity: 'error', because: 'what cannot be read cannot be played' },
  container: { severity: 'error', because: 'the board looks for a RIFF header and finds none' },
  coding: { severity: 'error', because: 'the board plays another coding as noise, or not at all' },
  'sample-rate': { severity: 'error', because: 'the board stays silent or plays at the wrong pitch' },
  'one-rate': { severity: 'error', because: 'the board sets its rate once a font' },
  'bit-depth': { severity: 'error', because: 'the board plays another width as noise, or not at all' },
  channels: { severity: 'error', because: 'the board stays silent or plays at half speed' },
  'plain-header': { severity: 'error', because: 'the board takes byte 44 for the first sample' },
  truncated: { severity: 'error', because: 'the board reads on behind the end of the file' },
  empty: { severity: 'error', because: 'the board waits for samples that never come' },
  'too-long': { severity: 'error', because: 'the board refuses or cuts it' },
  'too-large': { severity: 'error', because: 'the board refuses or cuts it' },
  defects: { severity: 'warning', because: 'readers differ in how they take a faulty structure' },
  silent: { severity: 'warning', because: 'it plays, and nobody hears it' },
  clipped: { severity: 'warning', because: 'it crackles' },
  'dc-offset': {
    severity: 'warning',
    because: 'it clicks at start and end, and moves the speaker off its rest',
  },
  'true-peak': { severity: 'warning', because: 'the amplifier clips it' },
  level: { severity: 'warning', because: 'it is louder or softer than the rest of the build' },
  'level-spread': { severity: 'warning', because: 'sounds of one role jump in loudness' },
  'slow-onset': { severity: 'warning', because: 'it lags behind the hand' },
  'trailing-silence': { severity: 'note', because: 'it only costs room and a late return to the hum' },
  'loop-seam': { severity: 'warning', because: 'it clicks on every turn' },
  'loop-dip': { severity: 'warning', because: 'it breathes on every turn' },
  'pair-lengths': { severity: 'warning', because: 'the layers run apart' },
  'low-share': { severity: 'warning', because: 'the speaker gives little of it, and may suffer' },
  'name-charset': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  'name-case': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  'name-length': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  'path-length': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  'case-clash': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  'reserved-name': { severity: 'note', inPlace: 'warning', because: 'names are written anew by the plan' },
  'trailing-dot-or-space': {
    severity: 'note',
    inPlace: 'warning',
    because: 'names are written anew by the plan',
  },
  'normal-form-clash': {
    severity: 'note',
    inPlace: 'warning',
    because: 'names are written anew by the plan',
  },
  'scheme-name': { severity: 'note', inPlace: 'error', because: 'names are written anew by the plan' },
  unspellable: { severity: 'error', because: 'the plan has no name for it' },
  'card-path': { severity: 'error', because: 'the plan cannot shorten what its own scheme spells' },
  'role-missing': { severity: 'error', because: 'the board needs it to start the font' },
  'pair-incomplete': { severity: 'error', because: 'the board mixes two layers and finds one' },
  'too-many-sounds': { severity: 'error', because: 'the board refuses the font, or ignores the rest' },
  'number-gap': { severity: 'note', inPlace: 'warning', because: 'the plan numbers anew' },
  'unknown-sound': { severity: 'warning', because: 'it will not be on the card' },
  'unknown-file': { severity: 'note', because: 'it will not disturb the board' },
  litter: { severity: 'note', inPlace: 'warning', because: 'the plan leaves it out' },
  duplicate: { severity: 'note', because: 'it only costs room' },
  'too-many-fonts': { severity: 'error', because: 'the board does not reach the last ones' },
  'folder-order': { severity: 'note', inPlace: 'warning', because: 'the plan numbers the folders' },
  'card-level-spread': { severity: 'warning', because: 'one font is louder than the next' },
  'config-missing': { severity: 'error', because: 'the board does not start without it' },
  'config-folder-absent': { severity: 'error', because: 'the board looks for a folder that is not there' },
  'config-folder-unnamed': { severity: 'warning', because: 'the font is on the card and never reached' },
  'config-order': { severity: 'warning', because: 'fonts play in another order than planned' },
  'read-cost': { severity: 'warning', because: 'sounds start late, whatever is on the card' },
  'config-copy-differs': { severity: 'note', because: 'the board keeps its settings inside' },
  'licence-none': { severity: 'warning', because: 'nobody can tell later whether it was paid for' },
  'licence-forbids': { severity: 'warning', because: 'the terms on record speak against this use' },
  'licence-no-seat': { severity: 'warning', because: 'one more use must be bought' },
  'licence-credit': { severity: 'note', because: 'the credits document carries it' },
} as const satisfies Record<string, RuleSeverity>

export type RuleId = keyof typeof SEVERITIES_BY_RULE
export const RULE_IDS = Object.keys(SEVERITIES_BY_RULE) as [RuleId, ...RuleId[]]

/** A rule's severity for a font of the library, or for a card as found. */
export function severityOf(rule: RuleId, inPlace: boolean): Severity {
  const entry: RuleSeverity = SEVERITIES_BY_RULE[rule]
  return inPlace ? (entry.inPlace ?? entry.severity) : entry.severity
}
