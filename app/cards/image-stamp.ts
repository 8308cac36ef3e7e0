import type { ImageStamp } from '../model/plan.ts'
import type { NewHasher } from '../ports/bytes.ts'
import { utf8Bytes } from './utf8-bytes.ts'

/** Label, serial and date of the image of a content: FORMAT.md, "Stamp". */
export function imageStampOf(fingerprint: string, date: string, newHasher: NewHasher): ImageStamp {
  const hasher = newHasher()
  hasher.update(utf8Bytes(`cardwright serial 1 ${fingerprint} ${date}`))
  const hex = hasher.digestHex()
  const serial = [6, 4, 2, 0].map((at) => hex.slice(at, at + 2)).join('')
  return { label: fingerprint, volumeSerial: parseInt(serial, 16) || 1, date }
}
