import { toReport } from '../app/errors/app-error.ts'
import { readRange } from './byte-range.ts'
import type { OpenSound } from './sound-opener.ts'

export interface SoundResponse {
  readonly status: number
  readonly headers: Readonly<Record<string, string>>
  readonly body: ReadableStream<Uint8Array> | string
}

/** One sound's original, or the range of it that was asked for, by its id: the same for both doors. */
export async function soundResponse(
  openSound: OpenSound,
  soundId: string,
  rangeHeader: string | undefined,
): Promise<SoundResponse> {
  try {
    const sound = await openSound(soundId)
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
