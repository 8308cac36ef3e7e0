import { useEffect, useRef, type KeyboardEvent } from 'react'
import type { AskResponse } from '../../app/contract/door.ts'
import { Icon } from './icon.tsx'

type Folder = AskResponse<'door:list-folder'>

interface FolderEntriesProps {
  readonly folder: Folder
  readonly onOpen: (path: string) => void
  readonly onFile: (file: Folder['files'][number]) => void
}

/** What is in a folder: folders to go into, files to choose. The arrow keys walk through it. */
export function FolderEntries({ folder, onOpen, onFile }: FolderEntriesProps) {
  const list = useRef<HTMLUListElement>(null)

  // Whoever went into a folder by a key goes on from its first entry.
  useEffect(() => {
    list.current?.querySelector('button')?.focus()
  }, [])

  function step(event: KeyboardEvent): void {
    const buttons = [...(list.current?.querySelectorAll('button') ?? [])]
    const at = buttons.indexOf(document.activeElement as HTMLButtonElement)
    const to = { ArrowUp: at - 1, ArrowDown: at + 1, Home: 0, End: buttons.length - 1 }[event.key]
    if (to === undefined) return
    event.preventDefault()
    buttons[to]?.focus()
  }

  return (
    <>
      <ul className="chooser-entries" aria-label="What is in it" ref={list} onKeyDown={step}>
        {folder.parent !== null && (
          <li>
            <button
              type="button"
              className="chooser-entry"
              onClick={() => folder.parent !== null && onOpen(folder.parent)}
            >
              <Icon name="up" />
              Up one folder
            </button>
          </li>
        )}
        {folder.folders.map(({ name, path }) => (
          <li key={path}>
            <button type="button" className="chooser-entry" onClick={() => onOpen(path)}>
              <Icon name="folder" />
              <span className="break">{name}</span>
            </button>
          </li>
        ))}
        {folder.files.map((file) => (
          <li key={file.path}>
            <button type="button" className="chooser-entry" onClick={() => onFile(file)}>
              <Icon name="note" />
              <span className="break">{file.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {folder.isCut && <p className="quiet">There is more in it than is shown: type where to go.</p>}
    </>
  )
}
