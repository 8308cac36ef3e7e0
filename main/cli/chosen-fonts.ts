import { Option, type Command } from 'commander'
import { findFont } from '../../app/usecases/find-font.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { EditionSummary } from '../../app/model/library.ts'
import type { Ask } from './session.ts'

/** What `--board` and `--build` said. */
export interface FontChoice {
  readonly board?: string
  readonly build?: string
}

/** Adds `[FONT…]`, `--board` and `--build`: which fonts, for which board. */
export function withFontChoice(command: Command): Command {
  return command
    .argument('[font...]', 'names or ids of fonts')
    .addOption(new Option('-b, --board <board>', 'id of the board (see `boards list`)'))
    .addOption(new Option('--build <code>', 'the fonts and the board of a build').conflicts('board'))
}

/** The contract's selection for what the user chose; the workshop's usual board where none is named. */
export async function selectionOf(
  ask: Ask,
  words: readonly string[],
  choice: FontChoice,
): Promise<{ boardId?: string; editionIds?: string[]; buildCode?: string }> {
  if (choice.build !== undefined) {
    if (words.length > 0) {
      throw new AppError({
        code: 'usage',
        what: 'A build brings its own fonts.',
        where: words.join(', '),
        mend: 'Name either fonts or --build.',
      })
    }
    return { buildCode: choice.build }
  }
  const boardId = choice.board ?? (await ask('workshop:status', {})).defaultBoardId
  if (words.length === 0) return { boardId }
  const chosen = await fontsOf(ask, words)
  return { boardId, editionIds: chosen.map((edition) => edition.id) }
}

/** Each of the user's words as an edition, in the order told. @throws as `findFont` */
export async function fontsOf(ask: Ask, words: readonly string[]): Promise<readonly EditionSummary[]> {
  const { fonts } = await ask('fonts:list', {})
  return words.map((word) => findFont(word, fonts))
}
