import { createHash } from 'node:crypto'
import type { Hasher } from '../../app/ports/bytes.ts'

export function nodeHasher(): Hasher {
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

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}
