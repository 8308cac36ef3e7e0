import { CommanderError } from 'commander'
import { AppError, oneSentence, toReport, type ExitKind } from '../../app/errors/app-error.ts'
import { writeFaultLog } from './fault-log.ts'
import { printable } from './printable.ts'
import { createProgram } from './program.ts'
import { createSession, type SessionState } from './session.ts'

const EXIT_CODES: Readonly<Record<ExitKind, number>> = { unmet: 1, input: 2, machine: 3 }
const WRONG_USAGE = 2

/**
 * Runs one command line to its end.
 * @returns the exit code: 0 done and holds, 1 something does not hold, 2 wrong usage or unusable
 *   input, 3 could not be done.
 */
export async function runCommandLine(argv: readonly string[]): Promise<number> {
  const cancel = cancelOnInterrupt()
  const state: SessionState = { exitCode: 0 }
  const { program, register } = createProgram()
  const session = createSession(program, state, cancel)
  register(session)
  process.stdout.on('error', leaveWhenNobodyReads)
  try {
    await program.parseAsync([...argv], { from: 'user' })
    return state.exitCode
  } catch (thrown) {
    const asJson = argv.includes('--json')
    if (thrown instanceof CommanderError) return wrongUsage(thrown, asJson)
    const report = toReport(thrown)
    if (!(thrown instanceof AppError)) {
      const log = writeFaultLog(thrown, session.workshopFolder(), argv)
      tell({ ...report, where: log === null ? '' : log }, asJson)
      return EXIT_CODES.machine
    }
    tell(report, asJson)
    return EXIT_CODES[report.kind]
  }
}

interface Told {
  readonly code: string
  readonly what: string
  readonly where: string
  readonly mend: string
}

/** One sentence on standard error; with `--json` besides the error document on standard output. */
function tell({ code, what, where, mend }: Told, asJson: boolean): void {
  const report = { code, what, where, mend }
  process.stderr.write(`${printable(oneSentence(report))}\n`)
  if (asJson) process.stdout.write(`${JSON.stringify({ error: report }, null, 2)}\n`)
}

function wrongUsage(error: CommanderError, asJson: boolean): number {
  // Help and version were asked for and are printed already; a bare command has shown its help.
  if (error.exitCode === 0) return 0
  if (error.code === 'commander.help') return WRONG_USAGE
  const what = error.message
    .replace(/^error: /, '')
    .replace(/\s*\n\s*\((Did you mean .*)\)$/s, '. $1')
    .replace(/([^.?])$/, '$1.')
  const sentence = `${what.charAt(0).toUpperCase()}${what.slice(1)}`
  tell({ code: 'usage', what: sentence, where: '', mend: 'See --help.' }, asJson)
  return WRONG_USAGE
}

/** The first Ctrl+C lets the command clean up; a second one leaves at once. */
function cancelOnInterrupt(): AbortSignal {
  const controller = new AbortController()
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.on(signal, () => {
      if (controller.signal.aborted) process.exit(EXIT_CODES.machine)
      controller.abort()
    })
  }
  return controller.signal
}

/** `cardwright fonts list | head` closes the pipe early; that is no fault. */
function leaveWhenNobodyReads(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit(0)
  throw error
}
