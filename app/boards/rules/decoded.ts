import { isUndecoded } from '../../model/measures.ts'
import type { Sound } from '../../model/sound.ts'

/** Whether samples could be got out of a sound that has some: then preparing can write them anew. */
export function isDecoded({ inspection: { facts, measures } }: Sound): boolean {
  if ((facts?.frames ?? 0) === 0) return false
  const coding = facts?.coding ?? 'other'
  if (coding === 'pcm' || coding === 'float') return true
  return measures !== null && !isUndecoded(measures)
}

/** What to do about a sound whose samples cannot be got at, and one where they can. */
export function decodingMend(sound: Sound, canDo: string): string {
  return isDecoded(sound) ? canDo : 'Export it again as WAV with PCM samples.'
}
