import { NO_FFMPEG_MEND } from '../../errors/no-ffmpeg.ts'
import { needsFfmpeg, type PreparingTools } from '../../model/preparation.ts'
import type { SoundCame, SoundInHand } from './make-sounds.ts'

/**
 * What a dry run knows already that cannot be made: sounds whose recipe needs a program that is not there.
 * The others are not among them.
 */
export function foreseenFailures(
  sounds: readonly SoundInHand[],
  { hasFfmpeg }: Pick<PreparingTools, 'hasFfmpeg'>,
): ReadonlyMap<SoundInHand, SoundCame> {
  if (hasFfmpeg) return new Map()
  const failed: SoundCame = { state: 'failed', problem: NO_FFMPEG }
  return new Map(sounds.filter(({ recipe }) => needsFfmpeg(recipe)).map((sound) => [sound, failed]))
}

const NO_FFMPEG = {
  code: 'prepare/no-ffmpeg',
  what: 'ffmpeg could not be run, and this sound needs it.',
  where: '',
  mend: NO_FFMPEG_MEND,
}
