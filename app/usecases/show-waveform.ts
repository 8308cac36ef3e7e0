import { readWaveform } from '../audio/peaks/waveform.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import type { PeaksArchive } from '../ports/peaks-archive.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import type { CardPorts } from './card-ports.ts'

/** As many columns as a wide window can show apart. */
const MOST_BINS = 1200

export interface WaveformPorts extends Pick<CardPorts, 'getBoard'> {
  readonly database: Pick<WorkshopDatabase, 'library' | 'preparation'>
  readonly peaks: Pick<PeaksArchive, 'read'>
}

/**
 * The stored waveform of a sound at the finest zoom that a window can show whole; null where the scan
 * found no samples to draw, or the stored one is damaged, or nothing was prepared for the board.
 *
 * @throws AppError `sound/unknown`, `board/unknown`
 */
export async function showWaveform(
  request: RequestOf<'sounds:waveform'>,
  ports: WaveformPorts,
): Promise<ResponseOf<'sounds:waveform'>> {
  const { library } = ports.database
  const sha256 = await contentOf(request, ports)
  if (sha256 === null) return { waveform: null }
  const place = await library.findPeaks(sha256)
  if (place === undefined) return { waveform: null }
  const waveform = readWaveform(await ports.peaks.read(place).catch(lostPeaks))
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

async function contentOf(
  { soundId, preparedForBoardId }: RequestOf<'sounds:waveform'>,
  { database, getBoard }: WaveformPorts,
): Promise<string | null> {
  const sound = await database.library.findSound(soundId)
  if (sound === undefined) throw unknownSound(soundId)
  if (preparedForBoardId === undefined) return sound.sha256
  const { board } = await getBoard(preparedForBoardId)
  const rows = await database.preparation.listPreparedSounds([sound.editionId], board.hash)
  const row = rows.find(({ path, originalSha256 }) => path === sound.path && originalSha256 === sound.sha256)
  return row?.preparedSha256 ?? null
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
