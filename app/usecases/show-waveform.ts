import { readWaveform } from '../audio/peaks/waveform.ts'
import type { ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import type { LibraryReader } from '../ports/library-records.ts'
import type { PeaksArchive } from '../ports/peaks-archive.ts'

/** As many columns as a wide window can show apart. */
const MOST_BINS = 1200

/**
 * The stored waveform of a sound at the finest zoom that a window can show whole; null where the scan
 * found no samples to draw, or the stored one is damaged.
 *
 * @throws AppError `sound/unknown`
 */
export async function showWaveform(
  soundId: string,
  library: Pick<LibraryReader, 'findSound' | 'findPeaks'>,
  peaks: Pick<PeaksArchive, 'read'>,
): Promise<ResponseOf<'sounds:waveform'>> {
  const sound = await library.findSound(soundId)
  if (sound === undefined) throw unknownSound(soundId)
  const place = await library.findPeaks(sound.sha256)
  if (place === undefined) return { waveform: null }
  const waveform = readWaveform(await peaks.read(place).catch(lostPeaks))
  const level = waveform?.levels.find(({ pairs }) => pairs.length / 2 <= MOST_BINS) ?? waveform?.levels.at(-1)
  if (waveform === undefined || level === undefined) return { waveform: null }
  const pairs = Array.from(level.pairs)
  return {
    waveform: {
      frames: waveform.frames,
      framesPerBin: level.framesPerBin,
      lowest: pairs.filter((_, index) => index % 2 === 0),
      highest: pairs.filter((_, index) => index % 2 === 1),
    },
  }
}

/** Waveforms can be drawn anew from the sounds: a lost one is no fault of this call. */
function lostPeaks(error: unknown): Uint8Array {
  if (error instanceof AppError) return new Uint8Array(0)
  throw error
}

function unknownSound(soundId: string): AppError {
  return new AppError({
    code: 'sound/unknown',
    what: 'The library has no sound of this id any more.',
    where: soundId,
    mend: 'Go back to the font; the last scan may have replaced it.',
  })
}
