import { Command, Option } from 'commander'
import { productVersion } from '../product-version.ts'
import { registerBuilds } from './builds-command.ts'
import { registerCards } from './cards-command.ts'
import { registerCheck } from './check-command.ts'
import { registerCreators } from './creators-command.ts'
import { registerDemo } from './demo-command.ts'
import { registerFonts } from './fonts-command.ts'
import { registerLicences } from './licences-command.ts'
import { registerMake } from './make-command.ts'
import { registerMeasure } from './measure-command.ts'
import { registerRemake } from './remake-command.ts'
import { registerPrepare } from './prepare-command.ts'
import { registerRoots } from './roots-command.ts'
import { registerScan } from './scan-command.ts'
import { registerBoards } from './boards-command.ts'
import { registerSchemes } from './schemes-command.ts'
import { registerRoles } from './roles-command.ts'
import { registerTranslate } from './translate-command.ts'
import { examples } from './examples.ts'
import type { Session } from './session.ts'
import { registerSize } from './size-command.ts'
import { registerSounds } from './sounds-command.ts'
import { registerStatus } from './status-command.ts'
import { registerVerify } from './verify-command.ts'

const COMMANDS: readonly ((program: Command, session: Session) => void)[] = [
  registerScan,
  registerFonts,
  registerSounds,
  registerMeasure,
  registerRoles,
  registerTranslate,
  registerCheck,
  registerSize,
  registerPrepare,
  registerMake,
  registerVerify,
  registerRemake,
  registerCards,
  registerCreators,
  registerLicences,
  registerBuilds,
  registerBoards,
  registerSchemes,
  registerRoots,
  registerStatus,
  registerDemo,
]

/** The whole tree of commands. `register` hangs them in, once there is a session for them. */
export function createProgram(): { readonly program: Command; register(session: Session): void } {
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
        'Exit codes: 0 done and all holds; 1 done, and something does not hold; 2 wrong usage or input',
        'that cannot be used; 3 could not be done.',
      ].join('\n'),
    )
  return {
    program,
    register(session) {
      for (const register of COMMANDS) register(program, session)
      for (const group of program.commands) {
        // Each group has a list; of the two ways to ask for help, one is enough.
        if (group.commands.length > 0)
          group.helpCommand(false).addHelpText('after', examples(`${group.name()} list`))
      }
    },
  }
}
