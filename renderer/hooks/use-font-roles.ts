import type { ResponseOf } from '../../app/contract/calls.ts'
import type { AppError } from '../../app/errors/app-error.ts'
import type { SoundPlace } from '../../app/model/role.ts'
import type { Loaded } from './loaded.ts'
import { useAsk } from './use-ask.ts'
import { useChange } from './use-change.ts'

export type FontRoles = ResponseOf<'roles:show'>
export type GuessedSound = FontRoles['sounds'][number]

export interface RoleActs {
  /** Tells what sounds are for; a later scan leaves them as told. */
  tell(changes: readonly { readonly path: string; readonly place: SoundPlace | null }[]): void
  /** Takes back what was told about these sounds, or about all of the font. */
  takeBack(paths?: readonly string[]): void
  readonly isRunning: boolean
  readonly error: AppError | null
}

/** The roles of a font, and what can be done about them. */
export function useFontRoles(editionId: string): {
  readonly loaded: Loaded<FontRoles>
  readonly acts: RoleActs
} {
  const loaded = useAsk('roles:show', { editionId })
  const set = useChange('roles:set')
  const forget = useChange('roles:forget')
  return {
    loaded,
    acts: {
      tell: (changes) => void set.run({ editionId, changes }),
      takeBack: (paths) => void forget.run(paths === undefined ? { editionId } : { editionId, paths }),
      isRunning: set.isRunning || forget.isRunning,
      error: set.error ?? forget.error,
    },
  }
}
