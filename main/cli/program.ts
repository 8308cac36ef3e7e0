import { Command, Option } from 'commander'
import { productVersion } from '../product-version.ts'
import { examples } from './examples.ts'
import type { Session } from './session.ts'

type Register = (program: Command, session: Session) => void

/** Each command by its first word, in the order of the help; loaded only where it is asked for. */
const COMMANDS: Readonly<Record<string, () => Promise<Register>>> = {
  scan: async () => (await import('./scan-command.ts')).registerScan,
  fonts: async () => (await import('./fonts-command.ts')).registerFonts,
  sounds: async () => (await import('./sounds-command.ts')).registerSounds,
  measure: async () => (await import('./measure-command.ts')).registerMeasure,
  roles: async () => (await import('./roles-command.ts')).registerRoles,
  translate: async () => (await import('./translate-command.ts')).registerTranslate,
  check: async () => (await import('./check-command.ts')).registerCheck,
  size: async () => (await import('./size-command.ts')).registerSize,
  prepare: async () => (await import('./prepare-command.ts')).registerPrepare,
  make: async () => (await import('./make-command.ts')).registerMake,
  verify: async () => (await import('./verify-command.ts')).registerVerify,
  remake: async () => (await import('./remake-command.ts')).registerRemake,
  cards: async () => (await import('./cards-command.ts')).registerCards,
  creators: async () => (await import('./creators-command.ts')).registerCreators,
  licences: async () => (await import('./licences-command.ts')).registerLicences,
  builds: async () => (await import('./builds-command.ts')).registerBuilds,
  boards: async () => (await import('./boards-command.ts')).registerBoards,
  schemes: async () => (await import('./schemes-command.ts')).registerSchemes,
  roots: async () => (await import('./roots-command.ts')).registerRoots,
  status: async () => (await import('./status-command.ts')).registerStatus,
  demo: async () => (await import('./demo-command.ts')).registerDemo,
}

/** The tree of commands. `register` hangs them in, once there is a session for them. */
export function createProgram(): {
  readonly program: Command
  /** @param argv where it begins with a command, that one alone is hung in; all otherwise, as for the help */
  register(session: Session, argv?: readonly string[]): Promise<void>
} {
  const program = new Command('cardwright')
    .description('Library manager and card maker for installers of prop sound boards.')
    .version(productVersion(), '-V, --version', 'print the version')
    .addOption(new Option('--workshop <dir>', "the workshop's folder (or CARDWRIGHT_WORKSHOP)"))
    .addOption(new Option('--json', 'one JSON document on standard output'))
    .helpOption('-h, --help', 'print help with an example')
    .helpCommand(false)
    .configureHelp({ showGlobalOptions: true })
    .exitOverride()
    // Wrong usage is told once, in one sentence, where all errors are told.
    .configureOutput({ outputError: () => undefined })
    .addHelpText(
      'after',
      [
        '',
        'Example:',
        '  cardwright scan ~/fonts',
        '  cardwright check --board bench-44',
        '  cardwright make --board bench-44 "Harbour Bell" --image card.img',
        '',
        'Exit codes: 0 done and all holds; 1 done, and something does not hold;',
        '2 wrong usage or input that cannot be used; 3 could not be done.',
      ].join('\n'),
    )
  return {
    program,
    async register(session, argv = []) {
      const asked = COMMANDS[firstWord(argv)]
      const registers = await Promise.all((asked ? [asked] : Object.values(COMMANDS)).map((load) => load()))
      for (const register of registers) register(program, session)
      for (const group of program.commands) {
        // Each group has a list; of the two ways to ask for help, one is enough.
        if (group.commands.length > 0)
          group.helpCommand(false).addHelpText('after', examples(`${group.name()} list`))
      }
    },
  }
}

/** The word that names the command; options that all commands share may stand before it. */
function firstWord(argv: readonly string[]): string {
  const [word = '', ...rest] = argv
  if (word === '--workshop') return firstWord(rest.slice(1))
  if (word === '--json' || word.startsWith('--workshop=')) return firstWord(rest)
  return Object.hasOwn(COMMANDS, word) ? word : ''
}
