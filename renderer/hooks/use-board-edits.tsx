import { createContext, use, useState, type ReactNode } from 'react'

interface BoardEdits {
  /** Texts that are being edited and are not kept yet, by board. */
  readonly texts: Readonly<Record<string, string>>
  change(boardId: string, text: string): void
  /** Forgets the edit, unless it has gone on from this text meanwhile. */
  letGo(boardId: string, text: string): void
}

const BoardEditsContext = createContext<BoardEdits>({
  texts: {},
  change: () => undefined,
  letGo: () => undefined,
})

/** Holds what is typed into boards, so that looking elsewhere in the window loses none of it. */
export function BoardEditsProvider({ children }: { readonly children: ReactNode }) {
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({})
  const change = (boardId: string, text: string) => setTexts((before) => ({ ...before, [boardId]: text }))
  const letGo = (boardId: string, text: string) =>
    setTexts((before) => {
      const { [boardId]: current, ...others } = before
      return current === text ? others : before
    })
  return <BoardEditsContext value={{ texts, change, letGo }}>{children}</BoardEditsContext>
}

export interface BoardEdit {
  /** As it is being edited; as it is kept until something is typed. */
  readonly text: string
  change(text: string): void
  /** Ends the edit that came to this text: it was kept, or is not wanted. */
  letGo(text: string): void
}

/** The text of one board while it is edited. */
export function useBoardEdit(boardId: string, kept: string): BoardEdit {
  const { texts, change, letGo } = use(BoardEditsContext)
  return {
    text: texts[boardId] ?? kept,
    change: (text) => change(boardId, text),
    letGo: (text) => letGo(boardId, text),
  }
}
