import type { Command } from 'commander'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'

export function registerStatus(program: Command, session: Session): void {
  const status = program
    .command('status')
    .description('where the workshop lies and what it holds')
    .addHelpText('after', examples('status'))
    .action(() =>
      session.withCore(async (ask) => {
        const status = await ask('workshop:status', {})
        return reply(
          status,
          [
            `Workshop  ${status.path}${status.isDemo ? ' (demo)' : ''}`,
            `Holds     ${status.fontCount} fonts, ${status.soundCount} sounds`,
            `Board     ${status.defaultBoardId} unless told`,
            `Images    ${status.imagesFolder}`,
            `Who       ${status.who}`,
            `Version   ${status.version}`,
          ]
            .map(printable)
            .join('\n'),
        )
      }),
    )
  status
    .command('set')
    .description('change what the workshop keeps of itself')
    .requiredOption(
      '--who <name>',
      'name that stands in the journal beside every edit; empty for the account',
    )
    .addHelpText('after', examples('status set --who "Kim at the bench"'))
    .action((options: { who: string }) =>
      session.withCore(async (ask) => {
        const changed = await ask('workshop:change', options)
        return reply(changed, printable(`From the next command on, ${changed.who} stands in the journal.`))
      }),
    )
}
