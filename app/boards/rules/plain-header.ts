import type { AudioFacts } from '../../model/audio-facts.ts'
import { listed, shown } from '../in-words.ts'
import { factsRule, type SoundMiss } from './rule.ts'

const PLAIN_FORMAT_BYTES = 16
const PLAIN_FORMAT_OFFSET = 12
const PLAIN_DATA_OFFSET = 36

/** Whether a file holds `fmt ` of 16 bytes, then `data`, and nothing else: 44 bytes before the first sample. */
export function isPlainHeader({ chunks }: AudioFacts): boolean {
  const [format, data] = chunks
  return (
    chunks.length === 2 &&
    format?.id === 'fmt ' &&
    format.offset === PLAIN_FORMAT_OFFSET &&
    format.sizeBytes === PLAIN_FORMAT_BYTES &&
    data?.id === 'data'
  )
}

/** A board that wants a plain header takes byte 44 for the first sample: `fmt ` of 16 bytes, then `data`, and nothing else. */
export const plainHeader = factsRule('plain-header', (facts, { board }) => {
  if (board.audio.header !== 'plain' || facts.container === 'other') return null
  const data = facts.chunks.findIndex((chunk) => chunk.id === 'data')
  if (data < 0) return null
  if (isPlainHeader(facts)) return null
  const others = facts.chunks.filter((chunk) => chunk.id !== 'fmt ' && chunk.id !== 'data')
  const format = facts.chunks.find((chunk) => chunk.id === 'fmt ')
  const dataOffset = facts.chunks[data]?.offset ?? 0
  const names = listed(
    others.slice(0, 6).map((chunk) => `"${shown(chunk.id)}"`),
    'and',
  )
  if (dataOffset === PLAIN_DATA_OFFSET && others.length > 0) return behindSamples(names, others)
  const found =
    others.length > 0
      ? `${names} besides the format and the samples`
      : format?.sizeBytes === PLAIN_FORMAT_BYTES
        ? 'its chunks more than once or in another order'
        : `a format description of ${format?.sizeBytes ?? 0} bytes`
  return {
    message: `The file holds ${found}; its samples start at byte ${dataOffset + 8}, and the board wants them at byte 44.`,
    why: 'The board plays the extra bytes as sound: a crack at the start, or silence.',
    mend: 'Prepare can write a plain header.',
    fixable: true,
    measured: dataOffset + 8,
    limit: 44,
  }
})

function behindSamples(names: string, others: AudioFacts['chunks']): SoundMiss {
  const bytes = others.reduce((sum, chunk) => sum + 8 + chunk.sizeBytes, 0)
  return {
    message: `The file holds ${names} behind its samples (${bytes} bytes); the board wants nothing but the format and the samples.`,
    why: 'The board plays the extra bytes behind the sound: a crack at the end.',
    mend: 'Prepare can write a plain header.',
    fixable: true,
    measured: bytes,
    limit: 0,
  }
}
