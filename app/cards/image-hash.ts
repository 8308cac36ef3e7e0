import type { NewHasher } from '../ports/bytes.ts'
import { putU64 } from './little-endian.ts'

/** One extent as the image hash sees it. */
export interface HashedExtent {
  readonly offset: number
  readonly sizeBytes: number
  readonly sha256: string
}

/** FORMAT.md, "Image hash". @param extents by offset */
export function imageHashOf(extents: readonly HashedExtent[], newHasher: NewHasher): string {
  const hasher = newHasher()
  for (const extent of extents) {
    const record = new Uint8Array(48)
    putU64(record, 0, extent.offset)
    putU64(record, 8, extent.sizeBytes)
    for (let at = 0; at < 32; at++) record[16 + at] = parseInt(extent.sha256.slice(2 * at, 2 * at + 2), 16)
    hasher.update(record)
  }
  return hasher.digestHex()
}
