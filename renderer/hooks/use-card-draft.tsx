import { createContext, use, type ReactNode } from 'react'
import { useKept } from './use-kept.ts'

/** `image`: one file; `files`: into a mounted card or a folder. */
export type CardForm = 'image' | 'files'

/** The card that is being put together; kept while the user looks elsewhere in the window, or reloads it. */
export interface CardDraft {
  /** A build whose fonts go on; null where fonts are chosen one by one. */
  readonly buildCode: string | null
  /** In play order. */
  readonly editionIds: readonly string[]
  /** As written by the user, `16GB`; empty for a card as large as its content. */
  readonly cardSize: string
  readonly accepted: readonly Accepted[]
  /** Whether sounds that can be mended are prepared on the way to the card. */
  readonly prepareFirst: boolean
  readonly form: CardForm
}

export interface Accepted {
  readonly rule: string
  readonly path: string | null
  readonly reason: string
}

const EMPTY: CardDraft = {
  buildCode: null,
  editionIds: [],
  cardSize: '16GB',
  accepted: [],
  prepareFirst: false,
  form: 'image',
}

interface DraftAndChange {
  readonly draft: CardDraft
  change(change: Partial<CardDraft>): void
}

const CardDraftContext = createContext<DraftAndChange>({ draft: EMPTY, change: () => undefined })

export function CardDraftProvider({ children }: { readonly children: ReactNode }) {
  const [draft, setDraft] = useKept('cardwright-card-draft', EMPTY)
  const change = (part: Partial<CardDraft>) => setDraft((before) => ({ ...before, ...part }))
  return <CardDraftContext value={{ draft, change }}>{children}</CardDraftContext>
}

export function useCardDraft(): DraftAndChange {
  return use(CardDraftContext)
}
