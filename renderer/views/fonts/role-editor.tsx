import { Button, NativeSelect, TextInput } from '@mantine/core'
import { useEffect, useRef, useState } from 'react'
import {
  LAYERS,
  PARTS,
  ROLES,
  type Layer,
  type Part,
  type Role,
  type SoundPlace,
} from '../../../app/model/role.ts'

interface RoleEditorProps {
  readonly path: string
  /** What is known or guessed so far. */
  readonly place: SoundPlace | null
  readonly onTell: (place: SoundPlace | null) => void
  readonly onLeave: () => void
}

const NONE = 'none'
const NUMBER = /^\d{0,6}$/

/** Tells what one sound is for: its role and, where it has them, its part, layer and number. */
export function RoleEditor({ path, place, onTell, onLeave }: RoleEditorProps) {
  const [role, setRole] = useState<Role | typeof NONE>(place?.role ?? NONE)
  const [part, setPart] = useState<Part>(place?.part ?? 'body')
  const [layer, setLayer] = useState<Layer | typeof NONE>(place?.layer ?? NONE)
  const [number, setNumber] = useState(place?.number === null ? '' : String(place?.number ?? ''))
  const first = useRef<HTMLSelectElement>(null)
  useEffect(() => first.current?.focus(), [])
  const isNumber = NUMBER.test(number.trim())

  function told(): SoundPlace | null {
    if (role === NONE) return null
    return {
      role,
      part,
      layer: role === 'swing' && layer !== NONE ? layer : null,
      number: number.trim() === '' ? null : Number(number.trim()),
    }
  }

  return (
    <form
      className="row row-end"
      aria-label={`What ${path} is for`}
      onSubmit={(event) => {
        event.preventDefault()
        if (isNumber) onTell(told())
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onLeave()
      }}
    >
      <NativeSelect
        ref={first}
        label="Role"
        data={[NONE, ...ROLES]}
        value={role}
        onChange={(event) => setRole(event.currentTarget.value as Role | typeof NONE)}
      />
      {role !== NONE && (
        <NativeSelect
          label="Part"
          data={[...PARTS]}
          value={part}
          onChange={(event) => setPart(event.currentTarget.value as Part)}
        />
      )}
      {role === 'swing' && (
        <NativeSelect
          label="Layer"
          data={[NONE, ...LAYERS]}
          value={layer}
          onChange={(event) => setLayer(event.currentTarget.value as Layer | typeof NONE)}
        />
      )}
      {role !== NONE && (
        <TextInput
          label="Number"
          inputMode="numeric"
          w="7rem"
          value={number}
          error={isNumber ? null : 'Digits only'}
          onChange={(event) => setNumber(event.currentTarget.value)}
        />
      )}
      <Button type="submit">Tell</Button>
      <Button variant="default" onClick={onLeave}>
        Leave it
      </Button>
    </form>
  )
}
