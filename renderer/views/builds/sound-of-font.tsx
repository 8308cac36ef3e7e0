import { Select } from '@mantine/core'
import { roleInWords } from '../../elements/in-words.ts'
import { useAsk } from '../../hooks/use-ask.ts'

interface SoundOfFontProps {
  readonly label: string
  /** Null until a font is chosen. */
  readonly editionId: string | null
  readonly path: string | null
  readonly onChoose: (path: string | null) => void
}

/** One sound of a font, found by typing a part of its path or role. */
export function SoundOfFont({ label, editionId, path, onChoose }: SoundOfFontProps) {
  const font = useAsk('fonts:show', editionId === null || editionId === '' ? null : { editionId })
  const isThere = font.state === 'ready' && font.value.edition.id === editionId
  const sounds = isThere ? font.value.edition.sounds : []
  return (
    <Select
      label={label}
      placeholder={editionId === null ? 'Choose the font first' : 'Type a part of its name'}
      searchable
      limit={100}
      disabled={!isThere}
      nothingFoundMessage="No sound of this name"
      data={sounds.map((sound) => ({
        value: sound.path,
        label: sound.place === null ? sound.path : `${sound.path} · ${roleInWords(sound.place)}`,
      }))}
      value={path}
      onChange={onChoose}
    />
  )
}
