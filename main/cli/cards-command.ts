import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/cards/in-units.ts'
import { examples } from './examples.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'

export function registerCards(program: Command, session: Session): void {
  program
    .command('cards')
    .description('what was made for cards')
    .command('list')
    .description('every content that was made and verified, newest first')
    .addHelpText('after', examples('cards list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('contents:list', {})
        return reply(list, listText(list))
      }),
    )
}

function listText({ contents }: ResponseOf<'contents:list'>): string {
  if (contents.length === 0) return 'No card was made yet.'
  return table(
    ['fingerprint', 'made', 'board', 'build', 'image', 'fonts'],
    contents.map((content) => [
      content.fingerprint,
      content.createdAt,
      content.board,
      content.build,
      inUnits(content.imageBytes),
      content.fonts.join(', '),
    ]),
  )
}
