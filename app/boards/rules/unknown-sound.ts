import { soundRule } from './rule.ts'

/**
 * A sound without a role beside others that have one, unless somebody told that it has none. A font
 * without any role is unrecognised as a whole.
 */
export const unknownSound = soundRule('unknown-sound', (sound, { isRecognised }) => {
  if (!isRecognised || sound.place !== null || sound.roleSource === 'user') return null
  return {
    message: 'Nobody knows what this sound is for.',
    why: 'It stays off the card.',
    mend: 'Tell its role, or leave it out.',
    fixable: false,
    measured: null,
    limit: null,
  }
})
