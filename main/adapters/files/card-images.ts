import { constants } from 'node:fs'
import { access, lstat, link, open, rename, rm, stat, statfs, unlink } from 'node:fs/promises'
import { randomUUID } from 'node:crypto'
import { basename, dirname, join } from 'node:path'
import type { CardImages, WrittenImage } from '../../../app/ports/card-images.ts'
import { runCardJob } from '../../workers/run-card-job.ts'
import { diskFull, imageExists, imageFault } from './image-faults.ts'
import { removeLeftBehind } from './left-behind.ts'

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
    const temporary = join(dirname(imagePath), `${leftoverPrefix(imagePath)}${process.pid}.${randomUUID()}`)
    try {
      const imageHash = await runCardJob({ kind: 'write-image', job, temporary, final: imagePath }, control)
      return written(temporary, imagePath, imageHash)
    } catch (error) {
      await removeQuietly(temporary)
      throw error
    } finally {
      process.off('SIGXFSZ', ignore)
    }
  },
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
