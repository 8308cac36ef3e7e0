import { isLoop } from '../../model/role.ts'
import type { Sound } from '../../model/sound.ts'
import type { JudgeContext } from './font-look.ts'

type Hearing = Pick<JudgeContext, 'levelOf' | 'throughSpeakerLevelOf' | 'speakerLowLimitHz'>

/** A level, and for a sentence how it was heard. */
export interface HeardLevel {
  readonly level: number | null
  /** Null where a speaker does not matter: for what is no loop. */
  readonly words: string | null
}

/** Level of a sound by which it is judged: that of a loop as the speaker gives it, where that is known. */
export function heardLevel(sound: Sound, context: Hearing): HeardLevel {
  if (sound.place === null || !isLoop(sound.place)) return { level: context.levelOf(sound), words: null }
  const heard = context.throughSpeakerLevelOf?.(sound) ?? null
  return heard === null
    ? { level: context.levelOf(sound), words: withoutSpeaker(context) }
    : { level: heard, words: throughSpeaker(context) }
}

/** Levels of sounds that are compared: all through the speaker, or where one was not so heard, none. */
export function heardAlike(
  sounds: readonly Sound[],
  context: Hearing,
): { readonly levels: readonly (number | null)[]; readonly words: string } {
  const levels = sounds.map((sound) => context.levelOf(sound))
  const heard = sounds.map((sound) => context.throughSpeakerLevelOf?.(sound) ?? null)
  const isWhole = heard.every((level, index) => level !== null || levels[index] === null)
  const isHeard = isWhole && heard.some((level) => level !== null)
  return isHeard
    ? { levels: heard, words: throughSpeaker(context) }
    : { levels, words: withoutSpeaker(context) }
}

function throughSpeaker({ speakerLowLimitHz }: Hearing): string {
  return `as heard through a speaker from ${speakerLowLimitHz} Hz`
}

/** Says why: nobody told the speaker's limit, or not all of the sounds could be heard through it. */
function withoutSpeaker({ speakerLowLimitHz }: Hearing): string {
  return speakerLowLimitHz === null
    ? 'measured without a speaker'
    : 'measured without the speaker, through which it could not be heard'
}
