import { Button } from '@mantine/core'
import type { KeyboardEvent } from 'react'
import type { SoundPlace } from '../../../app/model/role.ts'
import { roleInWords } from '../../elements/in-words.ts'
import type { GuessedSound } from '../../hooks/use-font-roles.ts'
import { RoleEditor } from './role-editor.tsx'
import { likelyPlace } from './role-keys.ts'

interface RoleLineProps {
  readonly sound: GuessedSound
  /** Among all sounds of the font, whether drawn or not. */
  readonly index: number
  /** Whether the Tab key comes to this line; arrow keys lead on from it. */
  readonly isCurrent: boolean
  readonly isChanging: boolean
  readonly onFocus: () => void
  readonly onKeyDown: (event: KeyboardEvent<HTMLButtonElement>) => void
  readonly onConfirm: () => void
  readonly onChange: () => void
  readonly onTell: (place: SoundPlace | null) => void
  readonly onLeave: () => void
  readonly onTakeBack: () => void
}

const KNOWN_BY = { scheme: 'by its name', inferred: 'guessed', user: 'as told' } as const

/** One sound with its role, how it is known, and what can be done about it. */
export function RoleLine(props: RoleLineProps) {
  const { sound, isCurrent, isChanging } = props
  const { path, place, guess, roleSource } = sound
  const shown = guess === null ? place : guess.place
  const tabIndex = isCurrent ? 0 : -1
  return (
    <>
      <tr data-current={isCurrent ? true : undefined} aria-rowindex={props.index + 2} onFocus={props.onFocus}>
        <td>
          <button
            type="button"
            className="role-sound mono break"
            data-sound=""
            tabIndex={tabIndex}
            onKeyDown={props.onKeyDown}
          >
            {path}
          </button>
        </td>
        <td>
          {shown === null ? (guess === null ? 'none' : 'not known') : roleInWords(shown)}
          {guess !== null && shown !== null && '?'}
        </td>
        <td>
          {guess === null ? (
            roleSource === null ? (
              '–'
            ) : (
              KNOWN_BY[roleSource]
            )
          ) : (
            <span className={`mark ${guess.isConfident ? 'tone-good' : 'tone-care'}`}>
              {guess.isConfident ? 'guessed' : 'ask'}
              {guess.place !== null && `, ${Math.round(guess.confidence * 100)} % sure`}
            </span>
          )}
        </td>
        <td className="break">
          {guess === null || guess.reasons.length === 0 ? '–' : guess.reasons.join('; ')}
        </td>
        <td>
          <div className="row role-acts">
            {guess !== null && guess.place !== null && (
              <Button
                size="xs"
                variant={guess.isConfident ? 'filled' : 'default'}
                tabIndex={tabIndex}
                aria-label={`Confirm ${roleInWords(guess.place)} for ${path}`}
                onClick={props.onConfirm}
              >
                Confirm
              </Button>
            )}
            {roleSource === 'user' && (
              <Button
                size="xs"
                variant="default"
                tabIndex={tabIndex}
                aria-label={`Take back what was told of ${path}`}
                onClick={props.onTakeBack}
              >
                Take back
              </Button>
            )}
            <Button
              size="xs"
              variant="default"
              tabIndex={tabIndex}
              aria-label={`Change ${path}`}
              aria-expanded={isChanging}
              onClick={isChanging ? props.onLeave : props.onChange}
            >
              Change
            </Button>
          </div>
        </td>
      </tr>
      {isChanging && (
        <tr>
          <td colSpan={5}>
            <RoleEditor
              path={path}
              place={likelyPlace(sound)}
              onTell={props.onTell}
              onLeave={props.onLeave}
            />
          </td>
        </tr>
      )}
    </>
  )
}
