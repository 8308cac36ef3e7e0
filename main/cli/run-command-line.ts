import { CommanderError } from 'commander'
import { cancelOnInterrupt } from './cancel-on-interrupt.ts'
import { createProgram } from './program.ts'
import { createSession, type SessionState } from './session.ts'
import { tell, tellFailure, WRONG_USAGE } from './tell-failure.ts'

/**
 * Runs one command line to its end.
 * @returns the exit code: 0 done and holds, 1 something does not hold, 2 wrong usage or unusable
 *   input, 3 could not be done.
 */
export async function runCommandLine(argv: readonly string[]): Promise<number> {
  const state: SessionState = { exitCode: 0 }
  const { program, register } = createProgram()
  const interrupt = cancelOnInterrupt()
  const session = createSession(program, state, interrupt.signal)
  process.stdout.on('error', leaveWhenNobodyReads)
  try {
    await register(session, argv)
    await program.parseAsync([...argv], { from: 'user' })
    return state.exitCode
  } catch (thrown) {
    const asJson = argv.includes('--json')
    if (thrown instanceof CommanderError) return wrongUsage(thrown, asJson)
    return tellFailure(thrown, { asJson, workshopFolder: session.workshopFolder(), argv })
  } finally {
    interrupt.release()
    process.stdout.off('error', leaveWhenNobodyReads)
  }
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
  // `-name` looks like an option: a font may well be called so.
  const isOneHyphen = error.code === 'commander.unknownOption' && / '-[^-]/.test(sentence)
  const mend = isOneHyphen
    ? 'See --help; a name that begins with a hyphen goes last, after --.'
    : 'See --help.'
  tell({ code: 'usage', what: sentence, where: '', mend }, asJson)
  return WRONG_USAGE
}

/** `cardwright fonts list | head` closes the pipe early; that is no fault. */
function leaveWhenNobodyReads(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit(0)
  throw error
}
