import { fourCharacters } from './wav/whole-numbers.ts'
import { wavContainer } from './wav/chunk-walk.ts'
import { tagBytesBefore } from './wav/open-wav.ts'

/** What a file is by its first bytes, whatever its name says. */
export type SoundKind = 'wav' | 'mp3' | 'flac' | 'ogg' | 'm4a' | 'aiff' | 'other'

/** Words for a person, for "this is ... and not a WAV". */
export const KIND_NAMES: Readonly<Record<SoundKind, string>> = {
  wav: 'a WAV sound',
  mp3: 'an MP3 sound',
  flac: 'a FLAC sound',
  ogg: 'an Ogg sound',
  m4a: 'an MPEG-4 sound',
  aiff: 'an AIFF sound',
  other: 'no kind of sound that Cardwright knows',
}

/**
 * Tells the kind by signature. Sources: the formats' own (RFC 9639 for FLAC, RFC 3533 for Ogg,
 * ISO/IEC 14496-12 for MPEG-4, Apple's AIFF 1.3, ISO/IEC 11172-3 for MPEG audio, id3.org for tags).
 * @param head first bytes of the file, 4096 or all of it
 */
export function sniffKind(head: Uint8Array): SoundKind {
  if (wavContainer(head) !== undefined) return 'wav'
  const id = fourCharacters(head, 0)
  if (id === 'fLaC') return 'flac'
  if (id === 'OggS') return 'ogg'
  if (id === 'FORM' && /^AIF[FC]$/.test(fourCharacters(head, 8))) return 'aiff'
  if (fourCharacters(head, 4) === 'ftyp') return 'm4a'
  if (tagBytesBefore(head) > 0) return behindTag(head)
  return isMpegFrame(head, 0) ? 'mp3' : 'other'
}

/** An ID3 tag can stand before MPEG audio, FLAC, or by mistake before a WAV. */
function behindTag(head: Uint8Array): SoundKind {
  const at = tagBytesBefore(head)
  if (at + 4 > head.length) return 'mp3'
  if (wavContainer(head.subarray(at)) !== undefined) return 'wav'
  if (fourCharacters(head, at) === 'fLaC') return 'flac'
  return isMpegFrame(head, at) ? 'mp3' : 'other'
}

function isMpegFrame(head: Uint8Array, at: number): boolean {
  const [first = 0, second = 0, third = 0] = head.subarray(at, at + 3)
  const hasSync = first === 0xff && (second & 0xe0) === 0xe0
  const isLayer = (second & 0x06) !== 0 && (second & 0x18) !== 0x08
  return hasSync && isLayer && (third & 0xf0) !== 0xf0 && (third & 0x0c) !== 0x0c
}
