/** What a user is told: what happened, to which file or thing, and how to mend it. */
export interface ErrorReport {
  /** Stable; tests and doors switch on this, never on wording. */
  readonly code: string
  readonly what: string
  readonly where: string
  readonly mend: string
  /** How `mend` is done where that takes several steps, in order; absent where it is one. */
  readonly steps?: readonly MendStep[] | undefined
}

/** One step of a mend, a sentence. */
export interface MendStep {
  readonly step: string
  /** Where there are several ways to do it, one sentence each, of which one is enough; else empty. */
  readonly ways: readonly string[]
}

/**
 * Which of the command line's exit codes an error leads to: `unmet` 1, something does not hold (fonts
 * that are not ready, a card too small); `input` 2, unusable input; `machine` 3, could not be done.
 */
export type ExitKind = 'unmet' | 'input' | 'machine'

/** The user's world is wrong, and they can mend it. A bug is a RangeError or TypeError instead. */
export class AppError extends Error {
  readonly code: string
  readonly what: string
  readonly where: string
  readonly mend: string
  /** Empty where the mend is one step. */
  readonly steps: readonly MendStep[]
  readonly kind: ExitKind

  constructor(report: ErrorReport & { readonly kind?: ExitKind }, options?: ErrorOptions) {
    super(oneSentence(report), options)
    this.name = 'AppError'
    this.code = report.code
    this.what = report.what
    this.where = report.where
    this.mend = report.mend
    this.steps = report.steps ?? []
    this.kind = report.kind ?? 'input'
  }
}

/** The one sentence a door shows: `<where>: <what> <mend>`. */
export function oneSentence(report: ErrorReport): string {
  const place = report.where === '' ? '' : `${report.where}: `
  return `${place}${report.what} ${report.mend}`.trim()
}

/** The same with its steps below it, numbered from 1, each on a line of its own as a terminal shows it. */
export function inLines(report: ErrorReport): readonly string[] {
  const steps = (report.steps ?? []).flatMap(({ step, ways }, index) => [
    `  ${index + 1}. ${step}`,
    ...ways.map((way) => `     - ${way}`),
  ])
  return [oneSentence(report), ...steps]
}

/** Thrown where the user cancelled; never shown as a fault. */
export class Cancelled extends AppError {
  constructor() {
    super({
      code: 'cancelled',
      what: 'Cancelled.',
      where: '',
      mend: 'Nothing was left half-made; start again whenever you like.',
      kind: 'machine',
    })
    this.name = 'Cancelled'
  }
}

/** The only place that turns an unknown thrown value into a report. */
export function toReport(thrown: unknown): ErrorReport & { readonly kind: ExitKind } {
  if (thrown instanceof AppError) {
    const { code, what, where, mend, steps, kind } = thrown
    return { code, what, where, mend, ...(steps.length === 0 ? {} : { steps }), kind }
  }
  return {
    code: 'internal',
    what: 'Cardwright met a fault of its own.',
    where: '',
    mend: 'Your files are unchanged; try again, and report it with the log if it comes back.',
    kind: 'machine',
  }
}

/** Rebuilds an error from a report that crossed a thread or a door. */
export function fromReport(report: ErrorReport & { readonly kind?: ExitKind }): AppError {
  return report.code === 'cancelled' ? new Cancelled() : new AppError(report)
}
