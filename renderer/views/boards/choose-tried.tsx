import { Button, Select, TextInput } from '@mantine/core'
import { useState } from 'react'
import { fontInWords, formatInWords } from '../../elements/in-words.ts'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'

/** A sound that was tried in the hilt: one of the library by its id, or a file by its path. */
export interface Tried {
  readonly id: string
  readonly kind: 'sound' | 'file'
  readonly name: string
  readonly mark: 'heard' | 'silent'
}

const MOST_SHOWN = 50

/** Finds sounds that were tried, in a font of the library or as a file, and marks them heard or silent. */
export function ChooseTried({ onTried }: { readonly onTried: (sound: Tried) => void }) {
  const fonts = valueOr(useAsk('fonts:list', {}), undefined)?.fonts ?? []
  const [editionId, setEditionId] = useState<string | null>(null)
  const [soundId, setSoundId] = useState<string | null>(null)
  const [file, setFile] = useState('')
  const shown = valueOr(useAsk('fonts:show', editionId === null ? null : { editionId }), undefined)
  const edition = shown?.edition.id === editionId ? shown?.edition : undefined
  const sound = edition?.sounds.find(({ id }) => id === soundId)

  return (
    <section className="sheet sheet-stack" aria-label="Choose sounds">
      <div className="row row-end">
        <Select
          label="Font"
          placeholder="Type a part of its name"
          searchable
          limit={MOST_SHOWN}
          nothingFoundMessage="No font of this name"
          data={fonts.map(({ id, font, version }) => ({ value: id, label: fontInWords(font.name, version) }))}
          value={editionId}
          onChange={(next) => {
            setEditionId(next)
            setSoundId(null)
          }}
          flex="1 1 16rem"
        />
        <Select
          label="Its sound"
          placeholder={editionId === null ? 'First a font' : 'Type a part of its name'}
          searchable
          limit={MOST_SHOWN}
          disabled={edition === undefined}
          nothingFoundMessage="No sound of this name"
          data={(edition?.sounds ?? []).map(({ id, path, inspection }) => ({
            value: id,
            label: inspection.facts === null ? path : `${path} · ${formatInWords(inspection.facts)}`,
          }))}
          value={soundId}
          onChange={setSoundId}
          flex="2 1 22rem"
        />
        <MarkButtons
          what="sound"
          isDisabled={sound === undefined}
          onMark={(mark) => {
            if (edition === undefined || sound === undefined) return
            onTried({ id: sound.id, kind: 'sound', name: `${edition.font.name}: ${sound.path}`, mark })
            setSoundId(null)
          }}
        />
      </div>
      <div className="row row-end">
        <TextInput
          label="Or a file that is in no font"
          description="Its full path; it is only read"
          inputWrapperOrder={['label', 'description', 'input', 'error']}
          spellCheck={false}
          autoComplete="off"
          value={file}
          onChange={(event) => setFile(event.currentTarget.value)}
          flex="1 1 22rem"
        />
        <MarkButtons
          what="file"
          isDisabled={file.trim() === ''}
          onMark={(mark) => {
            onTried({ id: file.trim(), kind: 'file', name: file.trim(), mark })
            setFile('')
          }}
        />
      </div>
    </section>
  )
}

interface MarkButtonsProps {
  readonly what: string
  readonly isDisabled: boolean
  readonly onMark: (mark: Tried['mark']) => void
}

function MarkButtons({ what, isDisabled, onMark }: MarkButtonsProps) {
  return (
    <>
      <Button
        variant="default"
        disabled={isDisabled}
        aria-label={`The ${what} was heard`}
        onClick={() => onMark('heard')}
      >
        Was heard
      </Button>
      <Button
        variant="default"
        disabled={isDisabled}
        aria-label={`The ${what} stayed silent`}
        onClick={() => onMark('silent')}
      >
        Stayed silent
      </Button>
    </>
  )
}
