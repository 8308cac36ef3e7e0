import { Slider } from '@mantine/core'
import { useRef } from 'react'
import type { Finding } from '../../../app/model/finding.ts'
import { comparePlaces, ROLES, type Role } from '../../../app/model/role.ts'
import type { Sound } from '../../../app/model/sound.ts'
import { GapRow } from '../../elements/gap-row.tsx'
import { counted } from '../../elements/in-words.ts'
import { useLongRows } from '../../hooks/use-long-rows.ts'
import { usePlayer } from '../../hooks/use-player.ts'
import { SoundLine } from './sound-line.tsx'

interface SoundsTableProps {
  readonly sounds: readonly Sound[]
  readonly findings: readonly Finding[]
}

/** The frame scrolls by itself where there are more lines than this. */
const MOST_IN_FULL = 80

/** Sounds by role, in play order; those without a role first, since they want the user's eye. */
export function SoundsTable({ sounds, findings }: SoundsTableProps) {
  const player = usePlayer()
  const frame = useRef<HTMLDivElement>(null)
  const lines = linesOf(sounds)
  const isLong = lines.length > MOST_IN_FULL
  const rows = useLongRows(frame, { count: lines.length, isLong, rowPixels: 48 })
  const columns = player === null ? 7 : 8
  return (
    <div className="sheet-stack">
      {player !== null && (
        <div className="row">
          <span id="volume">Volume</span>
          <Slider
            w="12rem"
            min={0}
            max={1}
            step={0.05}
            value={player.volume}
            onChange={player.setVolume}
            label={(value) => `${Math.round(value * 100)} %`}
            thumbProps={{ 'aria-labelledby': 'volume' }}
          />
          <span className="quiet">Originals as they are, some far louder than others. Begin quietly.</span>
        </div>
      )}
      <div className={isLong ? 'table-frame long-frame' : 'table-frame'} ref={frame}>
        <table className="table" aria-label="Sounds" aria-rowcount={lines.length + 1}>
          <thead>
            <tr aria-rowindex={1}>
              {player !== null && (
                <th>
                  <span className="only-heard">Play</span>
                </th>
              )}
              <th>Place</th>
              <th>File</th>
              <th className="number">Length</th>
              <th>Format</th>
              <th>Level</th>
              <th className="number">True peak</th>
              <th>Found</th>
            </tr>
          </thead>
          <GapRow pixels={rows.before} columns={columns} />
          {rows.shown.map(({ index }) => {
            const line = lines[index]
            if (line === undefined) return null
            return (
              <tbody
                key={'sound' in line ? line.sound.id : (line.role ?? 'none')}
                data-index={index}
                ref={rows.measure}
              >
                {'sound' in line ? (
                  <SoundLine
                    sound={line.sound}
                    index={index}
                    findings={findings.filter((finding) => finding.path === line.sound.path)}
                    player={player}
                  />
                ) : (
                  <tr className="group" aria-rowindex={index + 2}>
                    <th colSpan={columns} scope="rowgroup">
                      {line.role ?? 'role not known'}{' '}
                      <span className="quiet">{counted(line.count, 'sound')}</span>
                    </th>
                  </tr>
                )}
              </tbody>
            )
          })}
          <GapRow pixels={rows.after} columns={columns} />
        </table>
      </div>
    </div>
  )
}

/** A line of the table: the head of a role, or a sound. */
type Line = { readonly role: Role | null; readonly count: number } | { readonly sound: Sound }

function linesOf(sounds: readonly Sound[]): readonly Line[] {
  return groupedByRole(sounds).flatMap(({ role, sounds: these }): Line[] => [
    { role, count: these.length },
    ...these.map((sound) => ({ sound })),
  ])
}

function groupedByRole(sounds: readonly Sound[]) {
  const of = (role: Role | null) => sounds.filter((sound) => (sound.place?.role ?? null) === role)
  return [null, ...ROLES]
    .map((role) => ({
      role,
      sounds: of(role).sort((a, b) =>
        a.place === null || b.place === null ? a.path.localeCompare(b.path) : comparePlaces(a.place, b.place),
      ),
    }))
    .filter((group) => group.sounds.length > 0)
}
