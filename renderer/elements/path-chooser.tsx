import { Button, TextInput } from '@mantine/core'
import { useLayoutEffect, useRef, useState } from 'react'
import type { AskResponse } from '../../app/contract/door.ts'
import type { PathKind } from '../hooks/use-choose-path.ts'
import { useAsk } from '../hooks/use-ask.ts'
import { FolderEntries } from './folder-entries.tsx'
import { WhenLoaded } from './when-loaded.tsx'

interface PathChooserProps {
  readonly kind: PathKind
  /** Where to begin, if it is a full path; else at home. */
  readonly start: string
  readonly onChosen: (path: string) => void
  readonly onClose: () => void
}

const TITLES: Readonly<Record<PathKind, string>> = {
  folder: 'Choose a folder',
  archive: 'Choose an archive',
  'image-to-read': 'Choose an image',
  'image-to-write': 'Choose where the image goes',
}

/** A dialog that shows the folders of this computer, for doors whose own dialogs tell no paths. */
export function PathChooser({ kind, start, onChosen, onClose }: PathChooserProps) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [path, setPath] = useState(() => folderToBeginIn(kind, start))
  const listed = useAsk('door:list-folder', { path, kind })

  // Closed while it is still there, it gives the focus back to what opened it.
  useLayoutEffect(() => {
    const shown = dialog.current
    shown?.showModal()
    return () => shown?.close()
  }, [])

  return (
    <dialog
      ref={dialog}
      className="chooser"
      aria-labelledby="chooser-title"
      onCancel={(event) => {
        event.preventDefault()
        onClose()
      }}
      // Keys and presses in here are not the page's.
      onKeyDown={(event) => event.stopPropagation()}
    >
      <h2 id="chooser-title">{TITLES[kind]}</h2>
      <GoTo onGo={setPath} />
      <WhenLoaded loaded={listed} what="the folder">
        {(folder) => (
          <Listing
            key={folder.path}
            kind={kind}
            folder={folder}
            suggested={fileNameOf(start)}
            onOpen={setPath}
            onChosen={onChosen}
          />
        )}
      </WhenLoaded>
      {listed.state === 'failed' && (
        <div>
          <Button variant="default" onClick={() => setPath(null)}>
            Begin at home
          </Button>
        </div>
      )}
      <div>
        <Button variant="default" onClick={onClose}>
          Choose nothing
        </Button>
      </div>
    </dialog>
  )
}

function GoTo({ onGo }: { readonly onGo: (path: string) => void }) {
  const [typed, setTyped] = useState('')
  const go = () => typed.trim() !== '' && onGo(typed.trim())
  return (
    <div className="row row-end">
      <TextInput
        label="Go to"
        placeholder="A full path"
        spellCheck={false}
        autoComplete="off"
        flex="1 1 14rem"
        value={typed}
        onChange={(event) => setTyped(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return
          // Not the form that the field stands in.
          event.preventDefault()
          go()
        }}
      />
      <Button variant="default" onClick={go}>
        Go
      </Button>
    </div>
  )
}

interface ListingProps {
  readonly kind: PathKind
  readonly folder: AskResponse<'door:list-folder'>
  readonly suggested: string
  readonly onOpen: (path: string) => void
  readonly onChosen: (path: string) => void
}

function Listing({ kind, folder, suggested, onOpen, onChosen }: ListingProps) {
  const [fileName, setFileName] = useState(suggested)
  return (
    <>
      <div className="row">
        {folder.places.map((place) => (
          <Button key={place.name} size="sm" variant="default" onClick={() => onOpen(place.path)}>
            {place.name}
          </Button>
        ))}
      </div>
      <p className="mono break" role="status">
        {folder.path}
      </p>
      <FolderEntries
        folder={folder}
        onOpen={onOpen}
        onFile={kind === 'image-to-write' ? (file) => setFileName(file.name) : (file) => onChosen(file.path)}
      />
      {kind === 'folder' && (
        <div>
          <Button onClick={() => onChosen(folder.path)}>Choose this folder</Button>
        </div>
      )}
      {kind === 'image-to-write' && (
        <div className="row row-end">
          <TextInput
            label="File name"
            spellCheck={false}
            autoComplete="off"
            flex="1 1 14rem"
            value={fileName}
            onChange={(event) => setFileName(event.currentTarget.value)}
            onKeyDown={(event) => event.key === 'Enter' && event.preventDefault()}
          />
          <Button
            disabled={fileName.trim() === ''}
            onClick={() => onChosen(pathInside(folder.path, fileName.trim()))}
          >
            Choose this place
          </Button>
        </div>
      )}
    </>
  )
}

/** A full path as it is typed on this kind of computer begins with its root. */
function folderToBeginIn(kind: PathKind, start: string): string | null {
  const path = start.trim()
  if (!/^(\/|[A-Za-z]:[\\/]|\\\\)/.test(path)) return null
  return kind === 'folder' ? path : path.slice(0, Math.max(1, path.search(/[\\/][^\\/]*$/)))
}

function fileNameOf(path: string): string {
  return /[^\\/]*$/.exec(path.trim())?.[0] ?? ''
}

function pathInside(folder: string, name: string): string {
  const separator = folder.includes('\\') ? '\\' : '/'
  return folder.endsWith(separator) ? `${folder}${name}` : `${folder}${separator}${name}`
}
