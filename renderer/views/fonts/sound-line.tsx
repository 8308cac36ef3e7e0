import { Link } from 'wouter'
import { SEVERITIES, type Finding } from '../../../app/model/finding.ts'
import { isLoop } from '../../../app/model/role.ts'
import type { Sound } from '../../../app/model/sound.ts'
import { Icon } from '../../elements/icon.tsx'
import { formatInWords, lengthInWords, measuredInWords, placeInWords } from '../../elements/in-words.ts'
import { LevelStrip } from '../../elements/level-strip.tsx'
import { SeverityMark } from '../../elements/severity-mark.tsx'
import type { Player } from '../../hooks/use-player.ts'

interface SoundLineProps {
  readonly sound: Sound
  /** Among all lines of the table, whether drawn or not. */
  readonly index: number
  readonly findings: readonly Finding[]
  readonly player: Player | null
}

export function SoundLine({ sound, index, findings, player }: SoundLineProps) {
  const { facts, measures, problem } = sound.inspection
  const level = measures === null ? null : levelOf(sound)
  const gravest = SEVERITIES.find((severity) => findings.some((finding) => finding.severity === severity))
  const isPlaying = player?.soundId === sound.id
  return (
    <tr aria-rowindex={index + 2}>
      {player !== null && (
        <td>
          <button
            type="button"
            className="small-button"
            aria-label={`${isPlaying ? 'Stop' : 'Play'} ${sound.path}`}
            onClick={() => player.toggle(sound.id)}
          >
            <Icon name={isPlaying ? 'stop' : 'play'} />
          </button>
        </td>
      )}
      <td>{sound.place === null ? '–' : placeInWords(sound.place)}</td>
      <td className="mono break">
        <Link href={`/fonts/${sound.editionId}/sounds/${sound.id}`}>{sound.path}</Link>
        {player?.refusedId === sound.id && (
          <p role="alert" className="quiet">
            This browser cannot play it, or its file is gone.
          </p>
        )}
      </td>
      <td className="number">{lengthInWords(facts?.seconds ?? null)}</td>
      <td>
        {facts === null ? '–' : formatInWords(facts)}
        {problem !== null && <p className="quiet">{problem.message}</p>}
        {facts?.defects.map((defect) => (
          <p key={`${defect.code} ${defect.offset}`} className="quiet">
            {defect.message}
          </p>
        ))}
      </td>
      <td className="number">
        {level === null ? (
          '–'
        ) : (
          <>
            <LevelStrip levelLufs={level} /> {measuredInWords(level, 'LUFS')}
          </>
        )}
      </td>
      <td className="number">{measuredInWords(measures?.levels.truePeakDbtp ?? null, 'dBTP')}</td>
      <td>
        {gravest === undefined ? (
          '–'
        ) : (
          <>
            <SeverityMark severity={gravest} />
            {findings.length > 1 && <span className="mark-counts">and {findings.length - 1} more</span>}
          </>
        )}
      </td>
    </tr>
  )
}

/** The reading that is shown for a sound: integrated for loops and music, momentary maximum for the rest. */
function levelOf({ place, inspection }: Sound): number | null {
  const levels = inspection.measures?.levels
  if (levels === undefined) return null
  const isLong = place !== null && (isLoop(place) || place.role === 'music')
  return isLong ? (levels.integratedLufs ?? levels.momentaryMaxLufs) : levels.momentaryMaxLufs
}
