import { TextInput } from '@mantine/core'

interface BoardNamesProps {
  readonly boardId: string
  readonly title: string
  readonly onBoardId: (boardId: string) => void
  readonly onTitle: (title: string) => void
}

/** Id and title of a board that is being made. */
export function BoardNames({ boardId, title, onBoardId, onTitle }: BoardNamesProps) {
  return (
    <>
      <TextInput
        label="Id of the board"
        description="Small letters, digits and hyphens; its file is named by it"
        value={boardId}
        onChange={(event) => onBoardId(event.currentTarget.value)}
        spellCheck={false}
        autoComplete="off"
        required
      />
      <TextInput
        label="Title of the board"
        value={title}
        onChange={(event) => onTitle(event.currentTarget.value)}
        required
      />
    </>
  )
}
