import { oneOrMore, shown } from '../in-words.ts'
import type { CardRule } from './rule.ts'

/** The folder with the longest directory is dearer to open a sound in than the board stands. */
export const readCost: CardRule = {
  id: 'read-cost',
  judge: ({ board, readCost: cost }) => {
    const most = board.card.mostSectorsToOpen
    if (cost === undefined || cost === null || most === null) return []
    if (board.known['card.mostSectorsToOpen'] === 'unknown' || cost.sectors <= most) return []
    return [
      {
        path: null,
        message: `To open ${shown(cost.path)} the board reads ${oneOrMore(cost.sectors, 'sector')}; it stands ${most}.`,
        why: 'It looks for each sound from the start of the directory: the more names and the longer they are, the later the sound starts.',
        mend: 'Leave sounds of this folder out, or choose fonts with fewer.',
        fixable: false,
        measured: cost.sectors,
        limit: most,
      },
    ]
  },
}
