export const SEVERITIES = ['error', 'warning', 'note'] as const
/** `error`: the board will fail; `warning`: it will sound or behave badly; `note`: worth knowing. */
export type Severity = (typeof SEVERITIES)[number]

export const WEIGHTS = [...SEVERITIES, 'off'] as const
/** What a board or a build makes of a rule: how grave its findings are, or that it is switched off. */
export type Weight = (typeof WEIGHTS)[number]

/** A rule that a build switches off or weighs anew, over what its board says, with the reason. */
export interface RuleChange {
  readonly rule: string
  readonly severity: Weight
  readonly reason: string
}

/** One way a sound, a name or a font misses a board. Data, not an error. */
export interface Finding {
  readonly rule: string
  readonly severity: Severity
  /** The sound's path inside its edition; null where the whole font is meant. */
  readonly path: string | null
  /** What is so, with the measured value, its unit and the limit. */
  readonly message: string
  /** What it does on the board, in plain words. */
  readonly why: string
  /** How to put it right. */
  readonly mend: string
  /** Whether preparing, renaming or the plan can put it right by itself. */
  readonly fixable: boolean
  readonly measured: number | string | null
  readonly limit: number | string | null
}

export const VERDICTS = ['ready', 'fixable', 'blocked', 'unrecognised'] as const
export type VerdictWord = (typeof VERDICTS)[number]

/** What a check of one edition for one board came to. */
export interface Verdict {
  readonly word: VerdictWord
  readonly errorCount: number
  readonly warningCount: number
  readonly noteCount: number
  /** Limits of the board that nobody knows, and which therefore judged nothing. */
  readonly unknownLimitCount: number
}
