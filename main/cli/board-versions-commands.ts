import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { examples } from './examples.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'

/** `boards versions` and `boards rules`. */
export function registerBoardVersions(boards: Command, session: Session): void {
  boards
    .command('versions')
    .description(
      'boards as they were when cards were made with them; `boards show` and `boards diff` take the hash',
    )
    .argument('[board]', 'id of one board; all where none is named')
    .addHelpText('after', examples('boards versions', 'boards versions my-board'))
    .action((boardId: string | undefined) =>
      session.withCore(async (ask) => {
        const list = await ask('boards:versions', boardId === undefined ? {} : { boardId })
        return reply(list, versionsText(list))
      }),
    )
  boards
    .command('rules')
    .description('every rule with its severity and why; with a board also what that changes')
    .argument('[board]', 'id of a board')
    .addHelpText('after', examples('boards rules', 'boards rules my-board'))
    .action((boardId: string | undefined) =>
      session.withCore(async (ask) => {
        const list = await ask('boards:rules', boardId === undefined ? {} : { boardId })
        return reply(list, rulesText(list))
      }),
    )
}

function versionsText({ versions }: ResponseOf<'boards:versions'>): string {
  if (versions.length === 0) return 'No card was made with a board yet.'
  return table(
    ['board', 'hash', 'first used', 'still so', 'cards'],
    versions.map(({ board, hash, keptAt, isCurrent, cards }) => [
      board,
      hash.slice(0, 12),
      keptAt,
      isCurrent ? 'yes' : 'no',
      cards.length === 0
        ? null
        : cards
            .map(({ fingerprint, builds }) =>
              builds.length === 0 ? fingerprint : `${fingerprint} (${builds.join(', ')})`,
            )
            .join(', '),
    ]),
  )
}

function rulesText({ board, rules }: ResponseOf<'boards:rules'>): string {
  const rows = rules.map(({ rule, severity, inPlace, because, change }) => [
    rule,
    severity,
    inPlace === severity ? null : inPlace,
    change === null ? because : `${because}; ${change.severity} on ${board ?? ''}: ${change.reason}`,
  ])
  return table(['rule', 'severity', 'on a card as found', 'why'], rows)
}
