import { Slider } from '@mantine/core'
import type { Finding } from '../../../app/model/finding.ts'
import { comparePlaces, ROLES, type Role } from '../../../app/model/role.ts'
import type { Sound } from '../../../app/model/sound.ts'
import { counted } from '../../elements/in-words.ts'
import { usePlayer } from '../../hooks/use-player.ts'
import { SoundLine } from './sound-line.tsx'

interface SoundsTableProps {
  readonly sounds: readonly Sound[]
  readonly findings: readonly Finding[]
}

/** Sounds by role, in play order; those without a role first, since they want the user's eye. */
export function SoundsTable({ sounds, findings }: SoundsTableProps) {
  const player = usePlayer()
  const groups = groupedByRole(sounds)
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
      <div className="table-frame">
        <table className="table">
          <thead>
            <tr>
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
          {groups.map(({ role, sounds: these }) => (
            <tbody key={role ?? 'none'}>
              <tr className="group">
                <th colSpan={player === null ? 7 : 8} scope="rowgroup">
                  {role ?? 'role not known'} <span className="quiet">{counted(these.length, 'sound')}</span>
                </th>
              </tr>
              {these.map((sound) => (
                <SoundLine
                  key={sound.id}
                  sound={sound}
                  findings={findings.filter((finding) => finding.path === sound.path)}
                  player={player}
                />
              ))}
            </tbody>
          ))}
        </table>
      </div>
    </div>
  )
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
