import { Button, TextInput } from '@mantine/core'
import { useChoosePath } from '../hooks/use-choose-path.ts'

interface PathFieldProps {
  readonly label: string
  readonly description?: string
  readonly kinds: readonly ('folder' | 'archive' | 'image-to-read' | 'image-to-write')[]
  readonly value: string
  readonly onChange: (path: string) => void
}

const CHOOSE = {
  folder: 'Choose folder …',
  archive: 'Choose archive …',
  'image-to-read': 'Choose image …',
  'image-to-write': 'Choose place …',
} as const

/** A path, typed or, where the door has dialogs, chosen. */
export function PathField({ label, description, kinds, value, onChange }: PathFieldProps) {
  const choosePath = useChoosePath()
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
      {choosePath !== null &&
        kinds.map((kind) => (
          <Button
            key={kind}
            variant="default"
            onClick={() => void choosePath(kind).then((path) => path !== null && onChange(path))}
          >
            {CHOOSE[kind]}
          </Button>
        ))}
    </div>
  )
}
