import type { FontRule, Miss } from './rule.ts'
import { mostInWords } from './most-seen.ts'

/** Names that the plan writes and cannot shorten: the board's scheme, numbering and folder spell them so. */
export const cardPathRule: FontRule = {
  id: 'card-path',
  judge: ({ board, cardPathOf, context }) => {
    if (context.inPlace) return []
    const { longestNameUnits, longestPathUnits } = board.names
    return [...cardPathOf].flatMap(([from, path]): Miss[] => {
      const name = Math.max(...path.split('/').map((step) => step.length))
      const nameOver = longestNameUnits !== null && name > longestNameUnits
      const pathOver = longestPathUnits !== null && path.length > longestPathUnits
      if (!nameOver && !pathOver) return []
      const [kind, measured, limit] = nameOver
        ? ['name', name, longestNameUnits]
        : ['path', path.length, longestPathUnits]
      const mostOf = nameOver ? 'names.longestNameUnits' : 'names.longestPathUnits'
      return [
        {
          path: from,
          message: `On the card its ${kind} would be ${path} with ${measured} characters; ${mostInWords(board, mostOf, `the board takes at most ${limit ?? 0}`, `${limit ?? 0}`)}.`,
          why: 'The board does not find the file.',
          mend: 'Give the font a shorter name, or the sound a smaller number.',
          fixable: false,
          measured,
          limit,
          mostOf,
        },
      ]
    })
  },
}
