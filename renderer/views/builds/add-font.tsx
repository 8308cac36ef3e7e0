import { Select } from '@mantine/core'
import { fontInWords } from '../../elements/in-words.ts'
import { creatorOf, type FontRow } from '../fonts/font-row.ts'

interface AddFontProps {
  readonly rows: readonly FontRow[]
  readonly chosen: readonly string[]
  readonly onAdd: (editionId: string) => void
}

const MOST_SHOWN = 50

/** Adds one font at the end, found by typing a part of its name or creator. */
export function AddFont({ rows, chosen, onAdd }: AddFontProps) {
  const open = rows.filter((row) => row.state === 'present' && !chosen.includes(row.id))
  return (
    <Select
      label="Add a font"
      placeholder="Type a part of its name or creator"
      searchable
      limit={MOST_SHOWN}
      nothingFoundMessage="No other font of this name"
      data={open.map((row) => ({
        value: row.id,
        label: [
          fontInWords(row.font.name, row.version),
          creatorOf(row),
          (row.preparedVerdict ?? row.verdict)?.word ?? '',
        ]
          .filter((part) => part !== '')
          .join(' · '),
      }))}
      value={null}
      onChange={(editionId) => editionId !== null && onAdd(editionId)}
      maw="34rem"
    />
  )
}
