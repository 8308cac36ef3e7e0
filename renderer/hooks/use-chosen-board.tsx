import { createContext, use, useState, type ReactNode } from 'react'
import { valueOr } from './loaded.ts'
import { useAsk } from './use-ask.ts'

interface ChosenBoard {
  /** Undefined until the boards are known. */
  readonly boardId: string | undefined
  choose(boardId: string): void
}

const ChosenBoardContext = createContext<ChosenBoard>({ boardId: undefined, choose: () => undefined })
const REMEMBERED_AS = 'cardwright-board'

/** The board that verdicts are shown for, remembered by this window. */
export function ChosenBoardProvider({ children }: { readonly children: ReactNode }) {
  const [chosen, setChosen] = useState(() => localStorage.getItem(REMEMBERED_AS))
  const boards = valueOr(useAsk('boards:list', {}), undefined)?.boards
  const status = valueOr(useAsk('workshop:status', {}), undefined)
  const stillThere = boards?.find((board) => board.id === chosen)?.id
  const boardId = stillThere ?? (boards === undefined ? undefined : status?.defaultBoardId)
  return (
    <ChosenBoardContext
      value={{
        boardId,
        choose(next) {
          localStorage.setItem(REMEMBERED_AS, next)
          setChosen(next)
        },
      }}
    >
      {children}
    </ChosenBoardContext>
  )
}

export function useChosenBoard(): ChosenBoard {
  return use(ChosenBoardContext)
}
