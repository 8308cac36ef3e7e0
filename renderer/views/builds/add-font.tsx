import { Select } from '@mantine/core'
import { memo, useMemo, useState } from 'react'
import { fontInWords } from '../../elements/in-words.ts'
import { useSteady } from '../../hooks/use-steady.ts'
import { creatorOf, type FontRow } from '../fonts/font-row.ts'

interface AddFontProps {
  readonly rows: readonly FontRow[]
  readonly chosen: readonly string[]
  readonly onAdd: (editionId: string) => void
}

const MOST_SHOWN = 50

/** Adds one font at the end, found by typing a part of its name or creator. */
export function AddFont({ rows, chosen, onAdd }: AddFontProps) {
  // Whatever their order: a move among the chosen leaves the others as they are.
  const chosenIds = chosen.toSorted().join(' ')
  const choices = useMemo(() => choicesOf(rows, new Set(chosenIds.split(' '))), [rows, chosenIds])
  return <FontField choices={choices} onAdd={useSteady(onAdd)} />
}

interface Choice {
  readonly value: string
  readonly label: string
}

interface FontFieldProps {
  readonly choices: readonly Choice[]
  readonly onAdd: (editionId: string) => void
}

/** Reads through the whole library when it is drawn, and is therefore drawn only where that has changed. */
const FontField = memo(function FontField({ choices, onAdd }: FontFieldProps) {
  const [search, setSearch] = useState('')
  return (
    <Select
      label="Add a font"
      placeholder="Type a part of its name or creator"
      searchable
      limit={MOST_SHOWN}
      nothingFoundMessage="No other font of this name"
      data={choices}
      value={null}
      searchValue={search}
      onSearchChange={setSearch}
      onChange={(editionId) => editionId !== null && onAdd(editionId)}
      // Empty again for the next; the field itself would keep what was typed.
      onOptionSubmit={() => setSearch('')}
      maw="34rem"
    />
  )
})

function choicesOf(rows: readonly FontRow[], chosenIds: ReadonlySet<string>): readonly Choice[] {
  return rows
    .filter((row) => row.state === 'present' && !chosenIds.has(row.id))
    .map((row) => ({
      value: row.id,
      label: [
        fontInWords(row.font.name, row.version),
        creatorOf(row),
        (row.preparedVerdict ?? row.verdict)?.word ?? '',
      ]
        .filter((part) => part !== '')
        .join(' · '),
    }))
}
