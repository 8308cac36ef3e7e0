import { hash } from 'node:crypto'
import { closeSync, fstatSync, fsyncSync, ftruncateSync, openSync, readSync, unlinkSync } from 'node:fs'
import { extentBytes, imageExtents, type ImageExtent } from '../../../app/cards/image-extents.ts'
import { imageHashOf, type HashedExtent } from '../../../app/cards/image-hash.ts'
import type { ContentFile } from '../../../app/model/content.ts'
import type { CancelCheck, Hasher } from '../../../app/ports/bytes.ts'
import type { ImageJob } from '../../../app/ports/card-images.ts'
import { imageFault } from './image-faults.ts'
import { newSha256 } from './new-sha256.ts'
import { SequentialSink } from './sequential-sink.ts'
import { damagedInStore, missingInStore } from './store-faults.ts'

/**
 * Streams a plan into a new file and brings it to the disk; for a worker, since it does not yield.
 *
 * @param paths `final` is only told in messages
 * @param onBytes called with the bytes done so far
 * @returns the image hash, over the bytes as they were written
 * @throws AppError as `CardImages.write`; the file is removed then
 */
export function writeImage(
  job: ImageJob,
  paths: { readonly temporary: string; readonly final: string },
  onBytes: (done: number) => void,
  cancel: CancelCheck,
): string {
  let handle: number | null = null
  try {
    handle = openSync(paths.temporary, 'wx')
    ftruncateSync(handle, job.plan.geometry.imageBytes)
    const imageHash = streamExtents(job, handle, onBytes, cancel)
    fsyncSync(handle)
    closeSync(handle)
    return imageHash
  } catch (error) {
    if (handle !== null) {
      closeQuietly(handle)
      unlinkSync(paths.temporary)
    }
    throw imageFault(error, paths.final)
  }
}

/** Bytes that are written for a plan: the measure of its progress. */
export function bytesToWrite(job: ImageJob): number {
  return imageExtents(job.plan, job.stamp).reduce((sum, extent) => sum + extentBytes(extent), 0)
}

function streamExtents(
  job: ImageJob,
  handle: number,
  onBytes: (done: number) => void,
  cancel: CancelCheck,
): string {
  const sink = new SequentialSink(handle)
  const hashed: HashedExtent[] = []
  let done = 0
  for (const extent of imageExtents(job.plan, job.stamp)) {
    cancel()
    const sha256 = extent.kind === 'file' ? copyFile(extent, job, sink, cancel) : copyTable(extent, sink)
    const sizeBytes = extentBytes(extent)
    hashed.push({ offset: extent.offset, sizeBytes, sha256 })
    onBytes((done += sizeBytes))
  }
  sink.flush()
  return imageHashOf(hashed, newSha256)
}

type Fill = (space: Buffer, at: number) => number

function copyTable(extent: ImageExtent & { kind: 'table' }, sink: SequentialSink): string {
  return copy(extent.offset, extent.bytes.sizeBytes, sink, (space, at) => extent.bytes.readInto(space, at))
}

function copyFile(
  extent: ImageExtent & { kind: 'file' },
  job: ImageJob,
  sink: SequentialSink,
  cancel: CancelCheck,
): string {
  const { file } = extent
  const source = openSource(file, job)
  try {
    if (fstatSync(source).size !== file.sizeBytes) throw damagedInStore(file)
    const sha256 = copy(extent.offset, file.sizeBytes, sink, (space, at) => {
      cancel()
      const bytes = readSync(source, space, 0, space.length, at)
      if (bytes === 0) throw damagedInStore(file)
      return bytes
    })
    if (sha256 !== file.sha256) throw damagedInStore(file)
    return sha256
  } finally {
    closeSync(source)
  }
}

/** Fills a stretch of the image from a source, in one piece where it fits the buffer. */
function copy(offset: number, sizeBytes: number, sink: SequentialSink, fill: Fill): string {
  let hasher: Hasher | null = null
  for (let at = 0; at < sizeBytes;) {
    const space = sink.spaceAt(offset + at, sizeBytes - at)
    const bytes = fill(space, at)
    sink.take(bytes)
    const piece = space.subarray(0, bytes)
    if (hasher === null && bytes === sizeBytes) return hash('sha256', piece, 'hex')
    hasher ??= newSha256()
    hasher.update(piece)
    at += bytes
  }
  return (hasher ?? newSha256()).digestHex()
}

function openSource(file: ContentFile, job: ImageJob): number {
  const path = job.sourcePaths[file.sha256]
  if (path === undefined) throw missingInStore(file)
  try {
    return openSync(path, 'r')
  } catch (error) {
    throw missingInStore(file, error)
  }
}

function closeQuietly(handle: number): void {
  try {
    closeSync(handle)
  } catch {
    // The first fault is the one to tell.
  }
}
