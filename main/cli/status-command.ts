import type { Command } from 'commander'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'

export function registerStatus(program: Command, session: Session): void {
  program
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
}
