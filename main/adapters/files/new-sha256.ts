import { createHash } from 'node:crypto'
import type { Hasher } from '../../../app/ports/bytes.ts'

/** SHA-256 by the machine's own library. */
export function newSha256(): Hasher {
  const hash = createHash('sha256')
  return {
    update(bytes) {
      hash.update(bytes)
    },
    digestHex() {
      return hash.digest('hex')
    },
  }
}
