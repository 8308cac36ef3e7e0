import type { Command } from 'commander'
import { AppError } from '../../app/errors/app-error.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'

/** `roots`: the folders and archives that are scanned. */
export function registerRoots(program: Command, session: Session): void {
  const roots = program.command('roots').description('the folders and archives that are scanned')
  roots
    .command('list')
    .description('all of them, with what the last scan could not read')
    .addHelpText('after', examples('roots list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('roots:list', {})
        const lines =
          list.roots.length === 0
            ? ['Nothing was scanned yet; `cardwright scan DIR` begins.']
            : [
                table(
                  ['folder or archive', 'kind', 'last scan'],
                  list.roots.map((root) => [root.path, root.kind, root.lastScanAt]),
                ),
                ...list.problems.map((problem) =>
                  printable(`${problem.severity}: ${problem.path}: ${problem.message}`),
                ),
              ]
        return reply(list, lines.join('\n'))
      }),
    )
  roots
    .command('remove')
    .description('scan a folder or archive no more; its fonts are marked gone, records stay')
    .argument('<root>', 'path or id')
    .addHelpText('after', examples('roots remove ~/fonts'))
    .action((word: string) =>
      session.withCore(async (ask) => {
        const { roots: known } = await ask('roots:list', {})
        const path = session.resolvePath(word)
        const root = known.find((each) => each.id === word || each.path === path)
        if (root === undefined) {
          throw new AppError({
            code: 'root/unknown',
            what: 'It is no folder or archive that is scanned.',
            where: path,
            mend: '`roots list` shows all of them.',
          })
        }
        const removed = await ask('roots:remove', { rootId: root.id })
        return reply(
          removed,
          printable(`${root.path} is scanned no more. Its files are untouched, and its records stay.`),
        )
      }),
    )
}
