import { toReport } from '../app/errors/app-error.ts'
import { readRange } from './byte-range.ts'
import type { OpenSound } from './sound-opener.ts'

export interface SoundResponse {
  readonly status: number
  readonly headers: Readonly<Record<string, string>>
  readonly body: ReadableStream<Uint8Array> | string
}

/** What an address asks for: a sound by its id, as it came or as it was prepared for a board. */
export interface WantedSound {
  readonly soundId: string
  readonly preparedForBoardId: string | undefined
  readonly rangeHeader: string | undefined
}

/** One sound, or the range of it that was asked for: the same for both doors. */
export async function soundResponse(
  openSound: OpenSound,
  { soundId, preparedForBoardId, rangeHeader }: WantedSound,
): Promise<SoundResponse> {
  try {
    const sound = await openSound(soundId, preparedForBoardId)
    const range = readRange(rangeHeader, sound.sizeBytes)
    if (range === 'unsatisfiable') {
      return { status: 416, headers: { 'content-range': `bytes */${sound.sizeBytes}` }, body: '' }
    }
    const { start, end } = range ?? { start: 0, end: sound.sizeBytes }
    const headers: Record<string, string> = {
      'accept-ranges': 'bytes',
      'content-type': 'audio/wav',
      'content-length': String(end - start),
    }
    if (range !== undefined) headers['content-range'] = `bytes ${start}-${end - 1}/${sound.sizeBytes}`
    return { status: range === undefined ? 200 : 206, headers, body: sound.read(start, end) }
  } catch (thrown) {
    const headers = { 'content-type': 'application/json; charset=utf-8' }
    return { status: 404, headers, body: JSON.stringify({ ok: false, error: toReport(thrown) }) }
  }
}
