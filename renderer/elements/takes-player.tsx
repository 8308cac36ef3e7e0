import { Button, Slider } from '@mantine/core'
import { useId, type KeyboardEvent } from 'react'
import { TAKES, type TakeName } from '../../app/model/two-takes.ts'
import type { Standing } from '../client/two-takes-player.ts'
import type { TwoTakes } from '../hooks/use-two-takes.ts'
import { ErrorNote } from './error-note.tsx'
import { Icon } from './icon.tsx'
import { Note } from './note.tsx'

interface TakesPlayerProps {
  readonly takes: TwoTakes
  readonly standing: Standing | null
  readonly hasPrepared: boolean
  readonly isLoop: boolean
  /** How the two are brought to one loudness; null where there is one take only. */
  readonly loudness: string | null
}

const LETTERS: Readonly<Record<TakeName, string>> = { original: 'A', prepared: 'B' }
const WORDS: Readonly<Record<TakeName, string>> = { original: 'A, the original', prepared: 'B, as prepared' }

/** Plays a sound; where it was prepared, original and prepared as A and B, changed over where they stand. */
export function TakesPlayer({ takes, standing, hasPrepared, isLoop, loudness }: TakesPlayerProps) {
  const volumeId = useId()
  const names = TAKES.filter((name) => name === 'original' || hasPrepared)
  const busy = takes.playing ?? takes.waitingFor

  function onKeyDown(event: KeyboardEvent<HTMLDivElement>): void {
    if (event.ctrlKey || event.altKey || event.metaKey) return
    const wanted = names.find((name) => LETTERS[name] === event.key.toUpperCase())
    if (wanted !== undefined) {
      // The letter of what plays already is no wish to end it.
      if (takes.playing !== wanted) takes.toggle(wanted)
    } else if (event.key === 'Escape' || event.key.toUpperCase() === 'S') takes.stop()
    else return
    event.preventDefault()
  }

  return (
    <div className="sheet-stack" role="group" aria-label="Player" onKeyDown={onKeyDown}>
      <div className="row">
        {hasPrepared ? (
          names.map((name) => (
            <Button
              key={name}
              variant={busy === name ? 'filled' : 'default'}
              aria-pressed={busy === name}
              leftSection={<Icon name={busy === name ? 'stop' : 'play'} />}
              onClick={() => takes.toggle(name)}
            >
              {WORDS[name]}
            </Button>
          ))
        ) : (
          <Button
            variant="default"
            leftSection={<Icon name={busy === null ? 'play' : 'stop'} />}
            onClick={() => takes.toggle('original')}
          >
            {busy === null ? 'Play' : 'Stop'}
          </Button>
        )}
        <span id={volumeId}>Volume</span>
        <Slider
          w="10rem"
          min={0}
          max={1}
          step={0.05}
          value={takes.volume}
          onChange={takes.setVolume}
          label={(value) => `${Math.round(value * 100)} %`}
          thumbProps={{ 'aria-labelledby': volumeId }}
        />
        <span className="number">
          {standing !== null && standingInWords(standing, isLoop)}
          {takes.waitingFor !== null && takes.playing === null && 'Fetching …'}
        </span>
        <span className="only-heard" role="status">
          {takes.playing === null ? '' : `Playing ${WORDS[takes.playing]}`}
        </span>
      </div>
      {loudness !== null && <p>{loudness}</p>}
      <Note tone="care" title="The first time, play it quietly">
        A sound can be far louder than the one before it; headphones and small speakers stand little. Turn the
        volume up only once you have heard it.
      </Note>
      {names.map((name) => {
        const error = takes.refused[name]
        return error === undefined ? null : <ErrorNote key={name} error={error} />
      })}
      <p className="quiet">
        {hasPrepared
          ? 'Keys while one of these has the focus: A and B change over where the sound stands, S or Escape ends it.'
          : 'Keys while one of these has the focus: A plays it, S or Escape ends it.'}
        {isLoop && ' A loop goes round without a gap, as the board plays it.'}
      </p>
    </div>
  )
}

function standingInWords({ seconds, lengthSeconds }: Standing, isLoop: boolean): string {
  const place = `${seconds.toFixed(1)} of ${lengthSeconds.toFixed(1)} s`
  return isLoop ? `${place}, going round` : place
}
