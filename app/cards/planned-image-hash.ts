import type { ImageStamp, Plan } from '../model/plan.ts'
import type { NewHasher } from '../ports/bytes.ts'
import { plannedTables } from './compare-card.ts'
import { imageExtents } from './image-extents.ts'
import { imageHashOf } from './image-hash.ts'

/**
 * The image hash that the image of a plan has, without writing it: what is recorded of a content that
 * was written file by file, so that the same content has the same record in either form.
 */
export function plannedImageHash(plan: Plan, stamp: ImageStamp, newHasher: NewHasher): string {
  const extents = imageExtents(plan, stamp)
  const tables = plannedTables(extents, newHasher)
  const files = extents.flatMap((extent) =>
    extent.kind === 'file'
      ? [{ offset: extent.offset, sizeBytes: extent.file.sizeBytes, sha256: extent.file.sha256 }]
      : [],
  )
  return imageHashOf(
    [...tables, ...files].toSorted((a, b) => a.offset - b.offset),
    newHasher,
  )
}
