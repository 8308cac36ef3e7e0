import { Button } from '@mantine/core'
import { Fragment, useRef, useState, type KeyboardEvent } from 'react'
import type { SoundPlace } from '../../../app/model/role.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { focusLine } from '../../elements/focus-line.ts'
import { counted } from '../../elements/in-words.ts'
import { GapRow } from '../../elements/gap-row.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useFontRoles, type FontRoles as Roles, type RoleActs } from '../../hooks/use-font-roles.ts'
import { useLongRows } from '../../hooks/use-long-rows.ts'
import { KeepScheme } from './keep-scheme.tsx'
import { RoleLine } from './role-line.tsx'
import { likelyPlace, nextWaiting, roleByLetter, withRole } from './role-keys.ts'
import { TakeBackRoles } from './take-back-roles.tsx'

/** What each sound of a font is for; guesses are confirmed, changed and taken back by keys or buttons. */
export function FontRoles({ editionId }: { readonly editionId: string }) {
  const { loaded, acts } = useFontRoles(editionId)
  return (
    <WhenLoaded loaded={loaded} what="roles">
      {(roles) => <ShownRoles roles={roles} acts={acts} />}
    </WhenLoaded>
  )
}

/** The frame scrolls by itself where there are more sounds than this. */
const MOST_IN_FULL = 60
const ROW_PIXELS = 52

function ShownRoles({ roles, acts }: { readonly roles: Roles; readonly acts: RoleActs }) {
  const { sounds, knownCount, confidentCount, askCount } = roles
  const [at, setAt] = useState(() =>
    Math.max(
      0,
      sounds.findIndex(({ guess }) => guess !== null),
    ),
  )
  const [changing, setChanging] = useState<string | null>(null)
  const frame = useRef<HTMLDivElement>(null)
  // A letter pressed again goes on from the role it told, though the answer may still be under way.
  const told = useRef<{ readonly path: string; readonly place: SoundPlace } | null>(null)
  const current = Math.min(at, sounds.length - 1)
  const isLong = sounds.length > MOST_IN_FULL
  const rows = useLongRows(frame, {
    count: sounds.length,
    isLong,
    rowPixels: ROW_PIXELS,
    // Where the Tab key comes to must be there, wherever the frame was scrolled to.
    always: current,
  })

  function goTo(index: number): void {
    const wanted = Math.max(0, Math.min(sounds.length - 1, index))
    told.current = null
    setAt(wanted)
    rows.show(wanted)
    focusLine(() => frame.current?.querySelector(`[data-index="${wanted}"] [data-sound]`))
  }

  function confirm(index: number): void {
    const sound = sounds[index]
    if (sound === undefined) return
    if (sound.guess === null || sound.guess.place === null) return setChanging(sound.path)
    acts.tell([{ path: sound.path, place: sound.guess.place }])
    goTo(nextWaiting(sounds, index))
  }

  function onKeyDown(event: KeyboardEvent<HTMLButtonElement>, index: number): void {
    const sound = sounds[index]
    if (sound === undefined || event.ctrlKey || event.altKey || event.metaKey) return
    const moves: Readonly<Record<string, number>> = {
      ArrowDown: index + 1,
      ArrowUp: index - 1,
      Home: 0,
      End: sounds.length - 1,
    }
    const move = moves[event.key]
    const likely = told.current?.path === sound.path ? told.current.place : likelyPlace(sound)
    const role = event.key.length === 1 ? roleByLetter(event.key, likely?.role ?? null) : null
    if (move !== undefined) goTo(move)
    else if (event.key === 'Enter') confirm(index)
    else if (event.key === 'Delete' && sound.roleSource === 'user') {
      told.current = null
      acts.takeBack([sound.path])
    } else if (role !== null) {
      told.current = { path: sound.path, place: withRole(likely, role) }
      acts.tell([told.current])
    } else return
    event.preventDefault()
  }

  return (
    <div className="sheet-stack">
      <p role="status">
        {counted(knownCount, 'role')} known · {confidentCount} guessed with confidence · {askCount} to ask
      </p>
      <div className="row">
        {confidentCount > 0 && (
          <Button
            loading={acts.isRunning}
            onClick={() =>
              acts.tell(
                sounds.flatMap(({ path, guess }) =>
                  guess?.isConfident === true && guess.place !== null ? [{ path, place: guess.place }] : [],
                ),
              )
            }
          >
            Confirm {counted(confidentCount, 'confident guess')}
          </Button>
        )}
        <TakeBackRoles count={sounds.filter(({ roleSource }) => roleSource === 'user').length} acts={acts} />
      </div>
      {acts.error !== null && <ErrorNote error={acts.error} />}
      <p className="quiet" id="role-keys">
        Arrow keys move between sounds. Enter confirms a guess and goes to the next one; a letter tells a role
        by its first letter, pressed again the next such role; Delete takes back what was told.
      </p>
      <div className={isLong ? 'table-frame long-frame' : 'table-frame'} ref={frame}>
        <table
          className="table roles-table"
          aria-label="Roles"
          aria-describedby="role-keys"
          aria-rowcount={sounds.length + 1}
        >
          <thead>
            <tr aria-rowindex={1}>
              <th>Sound</th>
              <th>Is for</th>
              <th>How it is known</th>
              <th>Why</th>
              <th>
                <span className="only-heard">What can be done</span>
              </th>
            </tr>
          </thead>
          <GapRow pixels={rows.before} columns={5} />
          {rows.shown.map(({ index, gapBefore }) => {
            const sound = sounds[index]
            if (sound === undefined) return null
            return (
              <Fragment key={sound.path}>
                <GapRow pixels={gapBefore} columns={5} />
                <tbody data-index={index} ref={rows.measure}>
                  <RoleLine
                    sound={sound}
                    index={index}
                    isCurrent={index === current}
                    isChanging={changing === sound.path}
                    onFocus={() => setAt(index)}
                    onKeyDown={(event) => onKeyDown(event, index)}
                    onConfirm={() => confirm(index)}
                    onChange={() => setChanging(sound.path)}
                    onTell={(place) => {
                      setChanging(null)
                      acts.tell([{ path: sound.path, place }])
                      goTo(index)
                    }}
                    onLeave={() => {
                      setChanging(null)
                      goTo(index)
                    }}
                    onTakeBack={() => {
                      acts.takeBack([sound.path])
                      goTo(index)
                    }}
                  />
                </tbody>
              </Fragment>
            )
          })}
          <GapRow pixels={rows.after} columns={5} />
        </table>
      </div>
      {knownCount > 0 && <KeepScheme editionId={roles.editionId} font={roles.font} />}
    </div>
  )
}
