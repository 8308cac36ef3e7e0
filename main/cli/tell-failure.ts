import { AppError, inLines, toReport, type ErrorReport, type ExitKind } from '../../app/errors/app-error.ts'
import { writeFaultLog } from './fault-log.ts'
import { columnsOf, fitted } from './fit-columns.ts'
import { printable } from './printable.ts'

const EXIT_CODES: Readonly<Record<ExitKind, number>> = { unmet: 1, input: 2, machine: 3 }
/** Exit code for wrong usage and input that cannot be used. */
export const WRONG_USAGE = 2
/** Exit code where the machine did not let it be done. */
export const COULD_NOT_BE_DONE = 3

/** Where a failure is told. */
export interface Failing {
  readonly asJson: boolean
  /** Where the log of a fault of our own goes. */
  readonly workshopFolder: string
  readonly argv: readonly string[]
}

/**
 * Tells whatever was thrown in one sentence on standard error, with the steps of its mend; with `asJson`
 * besides as the error document on standard output. A fault of our own leaves a log and says where.
 * @returns the exit code
 */
export function tellFailure(thrown: unknown, { asJson, workshopFolder, argv }: Failing): number {
  const { kind, ...report } = toReport(thrown)
  if (thrown instanceof AppError) {
    tell(report, asJson)
    return EXIT_CODES[kind]
  }
  const log = writeFaultLog(thrown, workshopFolder, argv)
  tell(log === null ? report : { ...report, what: `${report.what} The log is ${log}.` }, asJson)
  return COULD_NOT_BE_DONE
}

/** One sentence on standard error, with the steps of its mend below; with `asJson` besides the error document on standard output. */
export function tell(report: ErrorReport, asJson: boolean): void {
  for (const line of inLines(report))
    process.stderr.write(`${fitted(printable(line), columnsOf(process.stderr))}\n`)
  if (asJson) process.stdout.write(`${JSON.stringify({ error: report }, null, 2)}\n`)
}
