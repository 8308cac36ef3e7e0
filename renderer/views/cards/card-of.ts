import type { RequestOf } from '../../../app/contract/calls.ts'
import { readCardSize, type CardSizeAsked } from '../../../app/model/card-as-sold.ts'
import type { Build } from '../../../app/model/records.ts'
import type { CardDraft } from '../../hooks/use-card-draft.tsx'
import type { FontRow } from '../fonts/font-row.ts'

/** The card as it would be made now. */
export interface Card {
  readonly build: Build | undefined
  readonly boardId: string
  /** In play order; fonts that are no longer in the library are left out. */
  readonly fonts: readonly FontRow[]
  /** What check, size and make are asked with. */
  readonly selection: RequestOf<'check'>
  /** Undefined for a card as large as its content, or while the size cannot be read. */
  readonly size: CardSizeAsked | undefined
  readonly isSizeUnread: boolean
  /** Changes whenever the board or the fonts do, in whatever order they are. */
  readonly key: string
}

export function cardOf(
  draft: CardDraft,
  build: Build | undefined,
  rows: readonly FontRow[],
  boardId: string,
): Card {
  const byId = new Map(rows.map((row) => [row.id, row]))
  const ids = build?.fontEditionIds ?? draft.editionIds
  const fonts = ids.map((id) => byId.get(id)).filter((row) => row !== undefined)
  const size = readCardSize(draft.cardSize)
  return {
    build,
    boardId,
    fonts,
    selection:
      build === undefined ? { boardId, editionIds: fonts.map((row) => row.id) } : { buildCode: build.code },
    size,
    isSizeUnread: draft.cardSize.trim() !== '' && size === undefined,
    key: [boardId, build?.code ?? '', ...fonts.map((row) => row.id).toSorted()].join(' '),
  }
}
