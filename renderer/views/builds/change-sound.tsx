import { Button, NativeSelect, Select } from '@mantine/core'
import { useState } from 'react'
import type { RequestOf } from '../../../app/contract/calls.ts'
import type { Build } from '../../../app/model/records.ts'
import { ROLES, type Role } from '../../../app/model/role.ts'
import { fontInWords } from '../../elements/in-words.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { SoundOfFont } from './sound-of-font.tsx'

export type SoundChange = RequestOf<'builds:sounds'>['change']

const ACTS = [
  { value: 'replace', label: 'Play another in the place of a sound' },
  { value: 'add', label: 'Add a sound of another font' },
  { value: 'leave-out', label: 'Leave a sound out' },
] as const
type Act = (typeof ACTS)[number]['value']

const AS_THERE = 'as where it comes from'

interface ChangeSoundProps {
  readonly build: Build
  readonly rows: readonly FontRow[]
  readonly isRunning: boolean
  readonly onChange: (change: SoundChange) => void
}

/** Tells one change: in which font, what is done, and with which sound of which other font. */
export function ChangeSound({ build, rows, isRunning, onChange }: ChangeSoundProps) {
  const [act, setAct] = useState<Act>('replace')
  const [editionId, setEditionId] = useState(build.fontEditionIds[0] ?? '')
  const [path, setPath] = useState<string | null>(null)
  const [lenderId, setLenderId] = useState<string | null>(null)
  const [lentPath, setLentPath] = useState<string | null>(null)
  const [role, setRole] = useState<Role | typeof AS_THERE>(AS_THERE)
  const own = rows.filter(({ id }) => build.fontEditionIds.includes(id))
  const labelled = (row: FontRow) => ({ value: row.id, label: fontInWords(row.font.name, row.version) })
  const change = told()

  function told(): SoundChange | null {
    const sound = lenderId === null || lentPath === null ? null : { editionId: lenderId, path: lentPath }
    if (act === 'leave-out') return path === null ? null : { act, editionId, path }
    if (sound === null) return null
    if (act === 'replace') return path === null ? null : { act, editionId, path, sound }
    const place =
      role === AS_THERE ? {} : { place: { role, part: 'body', layer: null, number: null } as const }
    return { act, editionId, sound, ...place }
  }

  return (
    <form
      className="row row-end"
      aria-label="Change a sound"
      onSubmit={(event) => {
        event.preventDefault()
        if (change === null) return
        onChange(change)
        setPath(null)
        setLentPath(null)
      }}
    >
      <NativeSelect
        label="What to do"
        data={ACTS.map((each) => ({ ...each }))}
        value={act}
        onChange={(event) => setAct(event.currentTarget.value as Act)}
      />
      <NativeSelect
        label="In which font"
        data={own.map(labelled)}
        value={editionId}
        onChange={(event) => {
          setEditionId(event.currentTarget.value)
          setPath(null)
        }}
      />
      {act !== 'add' && (
        <SoundOfFont label="Which sound" editionId={editionId} path={path} onChoose={setPath} />
      )}
      {act !== 'leave-out' && (
        <>
          <Select
            label="Font that lends"
            placeholder="Type a part of its name"
            searchable
            limit={50}
            nothingFoundMessage="No font of this name"
            data={rows.filter(({ state }) => state === 'present').map(labelled)}
            value={lenderId}
            onChange={(next) => {
              setLenderId(next)
              setLentPath(null)
            }}
          />
          <SoundOfFont label="Its sound" editionId={lenderId} path={lentPath} onChoose={setLentPath} />
        </>
      )}
      {act === 'add' && (
        <NativeSelect
          label="What it is for"
          data={[AS_THERE, ...ROLES]}
          value={role}
          onChange={(event) => setRole(event.currentTarget.value as Role | typeof AS_THERE)}
        />
      )}
      <Button type="submit" disabled={change === null} loading={isRunning}>
        Change
      </Button>
    </form>
  )
}
