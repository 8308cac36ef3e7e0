import { useState } from 'react'
import { counted } from '../../elements/in-words.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import type { ShownContent } from './content-page.tsx'

type File = ShownContent['files'][number]

const COLUMNS: readonly Column<File>[] = [
  { head: 'File', look: 'mono break', cell: ({ path }) => path },
  { head: 'What', cell: ({ kind }) => KINDS[kind] },
  { head: 'Bytes', isNumber: true, cell: ({ sizeBytes }) => sizeBytes.toLocaleString('en') },
  { head: 'SHA-256', look: 'mono hash', cell: ({ sha256 }) => sha256 },
]

const KINDS: Readonly<Record<File['kind'], string>> = {
  sound: 'sound',
  companion: 'companion',
  config: 'config',
  credits: 'credits',
  licences: 'licence record',
}

interface ContentFilesProps {
  readonly name: string
  readonly files: readonly File[]
}

/** Files in plan order, drawn once they are asked for. */
export function ContentFiles({ name, files }: ContentFilesProps) {
  const [isOpen, setIsOpen] = useState(false)
  return (
    <details onToggle={(event) => setIsOpen(event.currentTarget.open)}>
      <summary>
        <span className="mono">{name}</span> <span className="quiet">{counted(files.length, 'file')}</span>
      </summary>
      {isOpen && (
        <ListTable
          name={`Files of ${name}`}
          rows={files}
          keyOf={({ path }) => path}
          columns={COLUMNS}
          none="No files."
        />
      )}
    </details>
  )
}
