import type { NewHasher } from '../ports/bytes.ts'
import { utf8Bytes } from './utf8-bytes.ts'

/** A UUID of version 8 (RFC 9562, section 5.8) that the fingerprint alone decides. */
export function documentSerialOf(fingerprint: string, newHasher: NewHasher): string {
  const hasher = newHasher()
  hasher.update(utf8Bytes(`cardwright document 1 ${fingerprint}`))
  const hex = hasher.digestHex()
  const variant = ((parseInt(hex[16] ?? '0', 16) & 3) | 8).toString(16)
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    variant + hex.slice(17, 20),
    hex.slice(20, 32),
  ].join('-')
}
