import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Loaded } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import type { Card } from './card-of.ts'

/** What the card takes, to the byte; asked for once, however many places show it. */
export function useCardSize(card: Card): Loaded<ResponseOf<'size'>> {
  const isAsked = card.fonts.length > 0 && !card.isSizeUnread
  const cardBytes = card.size === undefined ? {} : { cardBytes: card.size.cardBytes }
  return useAsk('size', isAsked ? { ...card.selection, ...cardBytes } : null)
}
