import { imageExtents, extentBytes, type ImageExtent } from '../../app/cards/image-extents.ts'
import type { ContentFile } from '../../app/model/content.ts'
import type { ImageStamp, Plan } from '../../app/model/plan.ts'
import type { ReadAt } from './fat-walk.ts'

/** An image of a plan without a file: bytes are made where they are read, all else is zero. */
export function sparseImage(
  plan: Plan,
  stamp: ImageStamp,
  bytesOf: (file: ContentFile) => Uint8Array,
): ReadAt {
  const extents = imageExtents(plan, stamp)
  return (offset, length) => {
    const out = new Uint8Array(length)
    for (let index = lastBefore(extents, offset); index < extents.length; index++) {
      const extent = extents[index]
      if (extent === undefined || extent.offset >= offset + length) break
      const from = Math.max(offset, extent.offset)
      const to = Math.min(offset + length, extent.offset + extentBytes(extent))
      if (to <= from) continue
      const piece = new Uint8Array(to - from)
      if (extent.kind === 'table') extent.bytes.readInto(piece, from - extent.offset)
      else piece.set(bytesOf(extent.file).subarray(from - extent.offset, to - extent.offset))
      out.set(piece, from - offset)
    }
    return out
  }
}

function lastBefore(extents: readonly ImageExtent[], offset: number): number {
  let low = 0
  let high = extents.length
  while (low < high) {
    const middle = (low + high) >> 1
    if ((extents[middle]?.offset ?? 0) <= offset) low = middle + 1
    else high = middle
  }
  return Math.max(0, low - 1)
}
