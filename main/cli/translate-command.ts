import type { Command } from 'commander'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

/** `translate`: how a font's files will be called on a card. Holds where no two get one name. */
export function registerTranslate(program: Command, session: Session): void {
  program
    .command('translate')
    .description('how a font’s files would be called on the card of a board; nothing is renamed in place')
    .argument('<font>', 'name or id')
    .option('-b, --board <board>', 'id of the board')
    .addHelpText('after', examples('translate "Glass Meridian" --board bench-32'))
    .action((word: string, options: { board?: string }) =>
      session.withCore(async (ask) => {
        const [font] = await fontsOf(ask, [word])
        const boardId = options.board ?? (await ask('workshop:status', {})).defaultBoardId
        const names = await ask('translate', { editionId: font?.id ?? word, boardId })
        const rows = names.names.map(({ from, to, conflict }) => [from, to, conflict ?? ''])
        const text = [
          printable(
            `${names.font} for ${names.board}: ${counted(names.renamedCount, 'file')} renamed on the card, ${counted(names.conflictCount, 'conflict')}`,
          ),
          '',
          table(['now', 'on the card', 'remark'], rows),
        ]
        return { document: names, text: text.join('\n'), holds: names.conflictCount === 0 }
      }),
    )
}
