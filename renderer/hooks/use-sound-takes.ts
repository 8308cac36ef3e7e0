import type { ResponseOf } from '../../app/contract/calls.ts'
import { leadOf } from '../../app/model/two-takes.ts'
import { soundBytes } from '../client/client.ts'
import { useTwoTakes, type TwoTakes } from './use-two-takes.ts'

/** A sound as its page knows it. */
export type SoundToHear = Pick<
  ResponseOf<'sounds:prepared'>,
  'soundId' | 'board' | 'isLoop' | 'steps' | 'before' | 'after' | 'matchedLoudness'
>

/** Where a file does not say its rate, any will do to be told that it cannot be decoded. */
const ANY_RATE_HZ = 48_000

/** The original of a sound and, where it was prepared for the board, that as well, at one loudness. */
export function useSoundTakes(sound: SoundToHear): TwoTakes | null {
  const { soundId, board, isLoop, steps, before, after, matchedLoudness } = sound
  return useTwoTakes({
    original: {
      load: () => soundBytes(soundId),
      sampleRateHz: before.sampleRateHz ?? ANY_RATE_HZ,
      gainDb: matchedLoudness?.originalGainDb ?? 0,
      isLoop,
      leadSeconds: 0,
    },
    ...(after === null
      ? {}
      : {
          prepared: {
            load: () => soundBytes(soundId, board),
            sampleRateHz: after.sampleRateHz ?? ANY_RATE_HZ,
            gainDb: matchedLoudness?.preparedGainDb ?? 0,
            isLoop,
            leadSeconds: leadOf(steps, after.sampleRateHz),
          },
        }),
  })
}
