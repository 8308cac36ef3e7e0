import { constants } from 'node:fs'
import { access, lstat, link, open, rename, rm, stat, statfs, unlink } from 'node:fs/promises'
import { randomUUID } from 'node:crypto'
import { availableParallelism } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { Cancelled } from '../../../app/errors/app-error.ts'
import type { CardImages, ImageJob, WrittenImage } from '../../../app/ports/card-images.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import { runCardJob } from '../../workers/run-card-job.ts'
import { EarlyFlush } from './early-flush.ts'
import { diskFull, imageExists, imageFault } from './image-faults.ts'
import { removeLeftBehind } from './left-behind.ts'
import { OWN_MARK } from './process-mark.ts'
import { bytesToWrite, createImage, hashOfParts, type ImagePaths } from './write-image.ts'

/** Writes images in a worker, under a hidden name beside their final one. */
export const cardImages: CardImages = {
  async requireTarget(imagePath, replace, neededBytes) {
    try {
      const folder = dirname(imagePath)
      if (!(await stat(folder)).isDirectory()) throw Object.assign(new Error(folder), { code: 'ENOTDIR' })
      await access(folder, constants.W_OK)
      await requireFree(imagePath, replace)
      await removeLeftovers(imagePath)
      await requireRoom(imagePath, neededBytes)
    } catch (error) {
      throw imageFault(error, imagePath)
    }
  },

  async write(job, imagePath, control) {
    // Without a listener, a limit on the size of files ends the process instead of the write.
    process.on('SIGXFSZ', ignore)
    const temporary = join(dirname(imagePath), `${leftoverPrefix(imagePath)}${OWN_MARK}.${randomUUID()}`)
    try {
      const paths = { temporary, final: imagePath }
      createImage(job, paths)
      const imageHash = await writeWhole(job, paths, control)
      return written(temporary, imagePath, imageHash)
    } catch (error) {
      await removeQuietly(temporary)
      throw imageFault(error, imagePath)
    } finally {
      process.off('SIGXFSZ', ignore)
    }
  },
}

/** Below this, starting another worker takes longer than it saves. */
const WRITTEN_ALONE_BYTES = 32 << 20

/**
 * Each part reads, hashes and writes on a processor of its own. More than two would only wait for the
 * disk, which takes one write to a file at a time.
 */
async function writeInParts(job: ImageJob, paths: ImagePaths, control: RunControl) {
  const total = bytesToWrite(job)
  const of = total < WRITTEN_ALONE_BYTES || availableParallelism() < 2 ? 1 : 2
  const done = Array.from({ length: of }, () => 0)
  const stop = new AbortController()
  const onAbort = (): void => stop.abort()
  if (control.cancel.aborted) stop.abort()
  control.cancel.addEventListener('abort', onAbort)
  try {
    const parts = done.map((_, index) =>
      runCardJob(
        { kind: 'write-image', job, part: { index, of }, ...paths },
        {
          cancel: stop.signal,
          onProgress(progress) {
            done[index] = progress.done
            control.onProgress({ ...progress, done: done.reduce((sum, bytes) => sum + bytes, 0) })
          },
        },
      ),
    )
    // Where one fails, the other is stopped and waited for, and what stopped the first is told.
    for (const part of parts) part.catch(() => stop.abort())
    const settled = await Promise.allSettled(parts)
    const failed = settled.filter((each) => each.status === 'rejected').map(({ reason }) => reason as unknown)
    if (failed.length > 0) throw failed.find((reason) => !(reason instanceof Cancelled)) ?? failed[0]
    return settled.flatMap((each) => (each.status === 'fulfilled' ? [each.value] : []))
  } finally {
    control.cancel.removeEventListener('abort', onAbort)
  }
}

/** Writes all parts, and brings them to the disk. @returns the image hash */
async function writeWhole(job: ImageJob, paths: ImagePaths, control: RunControl): Promise<string> {
  const handle = await open(paths.temporary, 'r+')
  const flush = new EarlyFlush(handle)
  try {
    const parts = await writeInParts(job, paths, {
      cancel: control.cancel,
      onProgress(progress) {
        flush.note(progress.done)
        control.onProgress(progress)
      },
    })
    await flush.finish()
    return hashOfParts(parts)
  } finally {
    await flush.settle()
    await handle.close()
  }
}

function written(temporaryPath: string, imagePath: string, imageHash: string): WrittenImage {
  return {
    temporaryPath,
    imageHash,
    async publish(replace) {
      try {
        await (replace ? rename(temporaryPath, imagePath) : moveToFreeName(temporaryPath, imagePath))
        await syncFolder(dirname(imagePath))
      } catch (error) {
        throw imageFault(error, imagePath)
      }
    },
    discard: () => removeQuietly(temporaryPath),
  }
}

/** What cannot be removed now, the next image of that name removes; how the work went is what counts. */
async function removeQuietly(path: string): Promise<void> {
  await rm(path, { force: true }).catch(() => undefined)
}

/** A rename that never replaces: by a second name where the file system has them. */
async function moveToFreeName(from: string, to: string): Promise<void> {
  try {
    await link(from, to)
    await unlink(from)
  } catch (error) {
    const code = (error as { code?: unknown }).code
    if (code === 'EEXIST') throw imageExists(to)
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'EOPNOTSUPP' && code !== 'ENOSYS') throw error
    await requireFree(to, false)
    await rename(from, to)
  }
}

async function requireFree(imagePath: string, replace: boolean): Promise<void> {
  const there = await lstat(imagePath).catch(() => null)
  if (there === null) return
  if (!replace || !there.isFile()) throw imageExists(imagePath)
}

async function requireRoom(imagePath: string, neededBytes: number): Promise<void> {
  const { bavail, bsize } = await statfs(dirname(imagePath))
  const free = bavail * bsize
  if (free < neededBytes) throw diskFull(imagePath, ` It needs ${neededBytes} bytes and ${free} are free.`)
}

/** Half-made images of this name whose process is gone. */
function removeLeftovers(imagePath: string): Promise<void> {
  const prefix = leftoverPrefix(imagePath)
  return removeLeftBehind(dirname(imagePath), (name) =>
    name.startsWith(prefix) ? Number.parseInt(name.slice(prefix.length), 10) : NaN,
  )
}

function leftoverPrefix(imagePath: string): string {
  return `.${basename(imagePath).slice(0, 60)}.part.`
}

/** So that the name survives a power cut too; not every system lets a folder be opened. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null)
  try {
    await handle?.sync()
  } catch {
    // The bytes are safe; only the name may be lost to a power cut.
  } finally {
    await handle?.close()
  }
}

function ignore(): void {}
