import { Option, type Command } from 'commander'
import { readFile, stat } from 'node:fs/promises'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { AppError } from '../../app/errors/app-error.ts'
import { registerBoardVersions } from './board-versions-commands.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

interface NewOptions {
  readonly title?: string
  readonly extends?: string
}

interface DraftOptions {
  readonly from: string
  readonly id: string
  readonly title?: string
  readonly keep?: boolean
}

interface LearnOptions {
  readonly heard?: readonly string[]
  readonly silent?: readonly string[]
}

/** `boards`: what boards accept, one's own among them, and as they were when a card was made. */
export function registerBoards(program: Command, session: Session): void {
  const boards = program.command('boards').description('what sound boards accept: board files')
  boards
    .command('list')
    .description('all boards, shipped ones first')
    .addHelpText('after', examples('boards list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('boards:list', {})
        const rows = list.boards.map((board) => [
          board.id,
          board.title,
          board.source,
          board.inWords.filter(({ known }) => known === 'unknown').length,
        ])
        const text = [
          table(['board', 'title', 'comes from', 'limits unknown'], rows),
          ...(list.problems.length === 0 ? [] : ['', ...list.problems.map(printable)]),
        ]
        return { document: list, text: text.join('\n'), holds: list.problems.length === 0 }
      }),
    )
  boards
    .command('show')
    .description('what a board accepts, in words; also as it was when a card was made with it')
    .argument('<board>', 'id of the board, or the hash of how it was, or the fingerprint of a card')
    .option('--text', 'its file instead, as it was written')
    .addHelpText(
      'after',
      examples('boards show bench-44', 'boards show bench-44 --text', 'boards show 7Q2M4K9XZA'),
    )
    .action((boardId: string, options: { text?: boolean }) =>
      session.withCore(async (ask) => {
        const shown = await ask('boards:show', { boardId })
        if (options.text === true) return reply(shown, shown.text.trimEnd())
        const { rules } = await ask('boards:rules', { boardId })
        return reply(shown, [boardInWords(shown.board), ...ruleLines(rules)].join('\n'))
      }),
    )
  boards
    .command('new')
    .description("make a board file in the workshop's folder boards, to be filled in with any editor")
    .argument('<board>', 'its id: small letters, digits and hyphens')
    .option('--title <title>', 'its title; the id where none is told')
    .option('--extends <board>', 'a board whose limits hold where the new one sets none')
    .addHelpText('after', examples('boards new my-board --extends bench-44 --title "My board"'))
    .action((boardId: string, options: NewOptions) =>
      session.withCore(async (ask) => {
        const made = await ask('boards:new', {
          boardId,
          title: options.title ?? boardId,
          ...(options.extends === undefined ? {} : { parentId: options.extends }),
        })
        return reply(made, `${printable(made.path)}\nFill it in, then try it with \`boards test\`.`)
      }),
    )
  boards
    .command('test')
    .description('read a board file and tell every fault with its line and column')
    .argument('<file>', 'the board file')
    .addHelpText('after', examples('boards test my-board.yaml'))
    .action((file: string) =>
      session.withCore(async (ask) => {
        const path = session.resolvePath(file)
        const tested = await ask('boards:test', { text: await textOf(path) })
        const faults = tested.problems.map(
          ({ line, column, message }) => `${path}, line ${line}, column ${column}: ${message}`,
        )
        const text = tested.board === null ? faults.map(printable).join('\n') : boardInWords(tested.board)
        return { document: tested, text, holds: true, unusable: tested.board === null }
      }),
    )
  boards
    .command('save')
    .description('keep a board file in the workshop in place of the text before; one with a fault is refused')
    .argument('<board>', 'id of the board, as the file says it too')
    .argument('<file>', 'the board file')
    .addHelpText('after', examples('boards save my-board my-board.yaml'))
    .action((boardId: string, file: string) =>
      session.withCore(async (ask) => {
        const path = session.resolvePath(file)
        const text = await textOf(path)
        const { problems } = await ask('boards:test', { text })
        if (problems.length > 0) throw faultIn(path, problems)
        const kept = await ask('boards:save', { boardId, text })
        return reply(kept, printable(`${kept.board.title} is kept as ${kept.path}.`))
      }),
    )
  boards
    .command('diff')
    .description('the limits in which two boards differ; either may be as it was when a card was made')
    .argument('<board>', 'id of one board, or the hash of how it was, or the fingerprint of a card')
    .argument('<other>', 'the other')
    .addHelpText('after', examples('boards diff bench-44 bench-32', 'boards diff 7Q2M4K9XZA my-board'))
    .action((boardIdA: string, boardIdB: string) =>
      session.withCore(async (ask) => {
        const diff = await ask('boards:diff', { boardIdA, boardIdB })
        return reply(diff, diffText(diff, boardIdA, boardIdB))
      }),
    )
  boards
    .command('draft')
    .description('a first board file from a card that plays; everything in it is marked as seen playing')
    .requiredOption('--from <card>', 'the folder where the card is mounted, a copy of it, or its image')
    .addOption(new Option('--id <board>', 'id of the new board').default('drafted'))
    .option('--title <title>', 'its title')
    .option('--keep', 'keep it in the workshop instead of only showing it')
    .addHelpText(
      'after',
      examples(
        'boards draft --from /media/card --id my-board --keep',
        'boards draft --from card.img --id my-board',
      ),
    )
    .action((options: DraftOptions) =>
      session.withCore(async (ask) => {
        const drafted = await ask('boards:draft', {
          from: session.resolvePath(options.from),
          boardId: options.id,
          title: options.title ?? `Drafted ${options.id}`,
          keep: options.keep === true,
        })
        const told = `${counted(drafted.soundCount, 'sound')} in ${counted(drafted.fontFolders.length, 'font')}.`
        const text = drafted.path === null ? drafted.text.trimEnd() : `${drafted.path}\n${told}`
        return reply(drafted, printableLines(text))
      }),
    )
  boards
    .command('learn')
    .description('move the limits of a board of your own by sounds that were tried in the hilt')
    .argument('<board>', 'id of the board')
    .option('--heard <file...>', 'sounds that were heard')
    .option('--silent <file...>', 'sounds that stayed silent')
    .addHelpText('after', examples('boards learn my-board --heard a.wav b.wav --silent c.wav'))
    .action((boardId: string, options: LearnOptions) =>
      session.withCore(async (ask) => {
        const paths = (words: readonly string[] | undefined) =>
          (words ?? []).map((word) => session.resolvePath(word))
        const learned = await ask('boards:learn', {
          boardId,
          heard: paths(options.heard),
          silent: paths(options.silent),
        })
        const lines = [
          ...learned.moves.map(({ because, known }) => `${because} Now ${known}.`),
          ...learned.unclear.map(({ path, why }) => `${path}: ${why}`),
        ]
        return reply(learned, lines.length === 0 ? 'Nothing moved.' : lines.map(printable).join('\n'))
      }),
    )
  registerBoardVersions(boards, session)
}

function boardInWords({ id, title, notes, inWords }: ResponseOf<'boards:show'>['board']): string {
  const lines = [printable(`${title} (${id})`), ...(notes === '' ? [] : [printable(notes)]), '']
  const rows = inWords.map(({ limit, words, known }) => [limit, words, known])
  return [...lines, table(['limit', 'what it takes', 'how it is known'], rows)].join('\n')
}

/** The rules that a board's own file switches off or weighs anew. */
function ruleLines(rules: ResponseOf<'boards:rules'>['rules']): readonly string[] {
  const lines = rules.flatMap(({ rule, change }) => {
    if (change === null) return []
    const told = change.severity === 'off' ? 'switched off' : `weighed as ${change.severity}`
    return [printable(`  ${rule} ${told}: ${change.reason}`)]
  })
  return lines.length === 0 ? [] : ['', 'Rules that it changes:', ...lines]
}

function diffText(
  { boardA, boardB, differences }: ResponseOf<'boards:diff'>,
  wordA: string,
  wordB: string,
): string {
  const nameA = wordA === boardA ? boardA : `${boardA} as of ${wordA}`
  const nameB = wordB === boardB ? boardB : `${boardB} as of ${wordB}`
  if (differences.length === 0) return printable(`${nameA} and ${nameB} accept the same.`)
  const told = ({ words, known }: { words: string; known: string }): string =>
    known === 'stated' ? words : `${words} (${known})`
  return table(
    ['limit', printable(nameA), printable(nameB)],
    differences.map(({ limit, a, b }) => [limit, told(a), told(b)]),
  )
}

/** A text of several lines, each safe on a terminal. */
function printableLines(text: string): string {
  return text.split('\n').map(printable).join('\n')
}

function faultIn(path: string, problems: ResponseOf<'boards:test'>['problems']): AppError {
  const [first] = problems
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : ''
  return new AppError({
    code: 'board/invalid',
    what: `${first?.message ?? 'It cannot be read.'}${more}`,
    where: first === undefined ? path : `${path}, line ${first.line}, column ${first.column}`,
    mend: 'Correct the file and try again; `boards test` tells every fault.',
  })
}

const LARGEST_TEXT_BYTES = 1_000_000

/** A board file as text. */
async function textOf(path: string): Promise<string> {
  const unfit = (code: string, what: string, mend: string, cause?: unknown) =>
    new AppError({ code: `file/${code}`, what, where: path, mend }, { cause })
  try {
    const facts = await stat(path)
    if (!facts.isFile()) throw unfit('no-file', 'It is no file.', 'Name the board file itself.')
    if (facts.size > LARGEST_TEXT_BYTES) {
      throw unfit('too-large', 'A board file has at most 1 MB.', 'Choose the right file.')
    }
    return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(path))
  } catch (error) {
    if (error instanceof AppError) throw error
    if (error instanceof TypeError)
      throw unfit('no-text', 'It is not UTF-8 text.', 'Save it as UTF-8 and try again.', error)
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown cause'
    throw code === 'ENOENT'
      ? unfit('missing', 'There is no file of this name.', 'Check the name and the folder.', error)
      : unfit('unreadable', `It cannot be read (${code}).`, 'Check that you may read it.', error)
  }
}
