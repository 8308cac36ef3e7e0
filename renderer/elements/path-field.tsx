import { Button, TextInput } from '@mantine/core'
import { useState } from 'react'
import { useChoosePath, type PathKind } from '../hooks/use-choose-path.ts'
import { PathChooser } from './path-chooser.tsx'

interface PathFieldProps {
  readonly label: string
  readonly description?: string
  readonly kinds: readonly PathKind[]
  readonly value: string
  readonly onChange: (path: string) => void
}

const CHOOSE: Readonly<Record<PathKind, string>> = {
  folder: 'Choose folder …',
  archive: 'Choose archive …',
  'image-to-read': 'Choose image …',
  'image-to-write': 'Choose place …',
}

/** A path, typed or chosen: in the operating system's dialog where the door has it, else in our own. */
export function PathField({ label, description, kinds, value, onChange }: PathFieldProps) {
  const choosePath = useChoosePath()
  const [choosing, setChoosing] = useState<PathKind | null>(null)

  async function choose(kind: PathKind): Promise<void> {
    if (choosePath === null) return setChoosing(kind)
    const path = await choosePath(kind)
    if (path !== null) onChange(path)
  }

  return (
    <div className="row row-end">
      <TextInput
        label={label}
        inputWrapperOrder={['label', 'description', 'input', 'error']}
        description={description}
        value={value}
        onChange={(event) => onChange(event.currentTarget.value)}
        spellCheck={false}
        autoComplete="off"
        flex="1 1 22rem"
      />
      {kinds.map((kind) => (
        <Button key={kind} variant="default" onClick={() => void choose(kind)}>
          {CHOOSE[kind]}
        </Button>
      ))}
      {choosing !== null && (
        <PathChooser
          kind={choosing}
          start={value}
          onChosen={(path) => {
            setChoosing(null)
            onChange(path)
          }}
          onClose={() => setChoosing(null)}
        />
      )}
    </div>
  )
}
