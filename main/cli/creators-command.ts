import type { Command } from 'commander'
import { nearestWord } from '../../app/boards/edit-distance.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { Creator } from '../../app/model/records.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Ask, Session } from './session.ts'
import { table } from './table.ts'

interface CreatorOptions {
  readonly name?: string
  readonly contact?: string
  readonly note?: string
}

/** `creators`: who made the fonts. */
export function registerCreators(program: Command, session: Session): void {
  const creators = program.command('creators').description('who made the fonts')
  creators
    .command('list')
    .description('all recorded creators')
    .addHelpText('after', examples('creators list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('creators:list', {})
        const rows = list.creators.map((creator) => [creator.name, creator.contact, creator.note])
        return reply(
          list,
          rows.length === 0 ? 'No creator is recorded yet.' : table(['creator', 'contact', 'note'], rows),
        )
      }),
    )
  creators
    .command('add')
    .description('record a creator')
    .argument('<name>')
    .option('--contact <text>', 'how to reach them')
    .option('--note <text>', 'anything worth knowing')
    .addHelpText('after', examples('creators add Varnisk --contact fonts@example.org'))
    .action((name: string, options: CreatorOptions) =>
      session.withCore(async (ask) => {
        const added = await ask('creators:add', {
          name,
          contact: options.contact ?? '',
          note: options.note ?? '',
        })
        return reply(added, creatorText(added.creator))
      }),
    )
  creators
    .command('show')
    .description('one creator and the fonts recorded as theirs')
    .argument('<creator>', 'name or id')
    .addHelpText('after', examples('creators show Varnisk'))
    .action((word: string) =>
      session.withCore(async (ask) => {
        const creator = await creatorOf(ask, word)
        const { fonts } = await ask('fonts:list', {})
        const theirs = fonts.filter((font) => font.font.creatorId === creator.id)
        const names = [...new Set(theirs.map((font) => font.font.name))]
        return reply(
          { creator, fonts: names },
          [
            creatorText(creator),
            `  fonts    ${names.length === 0 ? 'none' : printable(names.join(', '))}`,
          ].join('\n'),
        )
      }),
    )
  creators
    .command('set')
    .description('correct what is recorded of a creator')
    .argument('<creator>', 'name or id')
    .option('--name <name>', 'another name')
    .option('--contact <text>', 'how to reach them')
    .option('--note <text>', 'anything worth knowing')
    .addHelpText('after', examples('creators set Varnisk --note "answers within a week"'))
    .action((word: string, options: CreatorOptions) =>
      session.withCore(async (ask) => {
        const { id } = await creatorOf(ask, word)
        const changed = await ask('creators:change', { id, change: { ...options } })
        return reply(changed, creatorText(changed.creator))
      }),
    )
}

/** The creator of this name or id. @throws AppError `creator/unknown` */
export async function creatorOf(ask: Ask, word: string): Promise<Creator> {
  const { creators } = await ask('creators:list', {})
  const wanted = word.trim().toLowerCase()
  const found = creators.find((creator) => creator.id === word || creator.name.toLowerCase() === wanted)
  if (found !== undefined) return found
  const nearest = nearestWord(
    word,
    creators.map((creator) => creator.name),
  )
  throw new AppError({
    code: 'creator/unknown',
    what: 'No creator of this name or id is recorded.',
    where: word,
    mend: nearest === null ? 'Add one with `creators add NAME`.' : `Did you mean "${nearest}"?`,
  })
}

function creatorText(creator: Creator): string {
  return [
    creator.name,
    `  id       ${creator.id}`,
    `  contact  ${creator.contact === '' ? '–' : creator.contact}`,
    `  note     ${creator.note === '' ? '–' : creator.note}`,
  ]
    .map(printable)
    .join('\n')
}
