import { hash } from 'node:crypto'
import { closeSync, fstatSync, ftruncateSync, openSync, readSync, unlinkSync } from 'node:fs'
import { extentBytes, imageExtents, type ImageExtent } from '../../../app/cards/image-extents.ts'
import { imageHashOf, type HashedExtent } from '../../../app/cards/image-hash.ts'
import type { ContentFile } from '../../../app/model/content.ts'
import type { CancelCheck, Hasher } from '../../../app/ports/bytes.ts'
import type { ImageJob } from '../../../app/ports/card-images.ts'
import { imageFault } from './image-faults.ts'
import { newSha256 } from './new-sha256.ts'
import { SequentialSink } from './sequential-sink.ts'
import { damagedInStore, missingInStore } from './store-faults.ts'

/** Where an image is written; `final` is only told in messages. */
export interface ImagePaths {
  readonly temporary: string
  readonly final: string
}

/** One of several parts of an image, which are written at the same time: `index` counts from 0. */
export interface ImagePart {
  readonly index: number
  readonly of: number
}

/** Makes the file that an image is written into, all of it a hole. @throws AppError as `CardImages.write` */
export function createImage(job: ImageJob, { temporary, final }: ImagePaths): void {
  let handle: number | null = null
  try {
    handle = openSync(temporary, 'wx')
    ftruncateSync(handle, job.plan.geometry.imageBytes)
    closeSync(handle)
  } catch (error) {
    if (handle !== null) {
      closeQuietly(handle)
      unlinkSync(temporary)
    }
    throw imageFault(error, final)
  }
}

/**
 * Streams a part of a plan into a file that was created; for a worker, since it does not yield. Parts
 * are about equally large, and none of them writes where another does.
 *
 * @param onBytes called with the bytes of this part that are done so far
 * @returns its extents with the hashes of the bytes as they were written
 * @throws AppError as `CardImages.write`
 */
export function writeImagePart(
  job: ImageJob,
  part: ImagePart,
  { temporary, final }: ImagePaths,
  onBytes: (done: number) => void,
  cancel: CancelCheck,
): readonly HashedExtent[] {
  let handle: number | null = null
  try {
    handle = openSync(temporary, 'r+')
    const hashed = streamExtents(extentsOf(job, part), job, handle, onBytes, cancel)
    closeSync(handle)
    return hashed
  } catch (error) {
    if (handle !== null) closeQuietly(handle)
    throw imageFault(error, final)
  }
}

/** The image hash of all parts, in their order. */
export function hashOfParts(parts: readonly (readonly HashedExtent[])[]): string {
  return imageHashOf(parts.flat(), newSha256)
}

/** Bytes that are written for a plan: the measure of its progress. */
export function bytesToWrite(job: ImageJob): number {
  return sizeOf(imageExtents(job.plan, job.stamp))
}

function extentsOf(job: ImageJob, { index, of }: ImagePart): readonly ImageExtent[] {
  const extents = imageExtents(job.plan, job.stamp)
  const partBytes = sizeOf(extents) / of
  let before = 0
  return extents.filter((extent) => {
    const inPart = Math.min(of - 1, Math.floor(before / partBytes))
    before += extentBytes(extent)
    return inPart === index
  })
}

function sizeOf(extents: readonly ImageExtent[]): number {
  return extents.reduce((sum, extent) => sum + extentBytes(extent), 0)
}

function streamExtents(
  extents: readonly ImageExtent[],
  job: ImageJob,
  handle: number,
  onBytes: (done: number) => void,
  cancel: CancelCheck,
): readonly HashedExtent[] {
  const sink = new SequentialSink(handle, extents[0]?.offset ?? 0)
  const hashed: HashedExtent[] = []
  let done = 0
  for (const extent of extents) {
    cancel()
    const sha256 = extent.kind === 'file' ? copyFile(extent, job, sink, cancel) : copyTable(extent, sink)
    const sizeBytes = extentBytes(extent)
    hashed.push({ offset: extent.offset, sizeBytes, sha256 })
    onBytes((done += sizeBytes))
  }
  sink.flush()
  return hashed
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
