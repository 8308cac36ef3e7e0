import { statSync } from 'node:fs'
import { AppError, Cancelled } from '../../app/errors/app-error.ts'
import type { CardIdentity, CardReading } from '../../app/model/card-reading.ts'
import type { OnProgress } from '../../app/ports/progress.ts'
import { openImageFile } from '../adapters/files/image-file.ts'
import { identifyFolder, readCardFolder } from '../adapters/files/read-card-folder.ts'
import { identifyImage, readCardImage } from '../adapters/files/read-card-image.ts'
import { bytesToWrite, writeImagePart } from '../adapters/files/write-image.ts'
import { doFolderJob } from './folder-job.ts'
import type { CardJob, CardResults, CardWorkerData } from './card-messages.ts'

/** Between two reports of progress, in milliseconds. */
const REPORT_EVERY_MS = 100

/** Does one job of a card worker; what `card.entry` speaks about. @throws AppError, Cancelled */
export async function doCardJob(
  data: CardWorkerData,
  onProgress: OnProgress,
): Promise<CardResults[CardJob['kind']]> {
  const { job } = data
  const flag = new Int32Array(data.cancelFlag)
  const cancel = (): void => {
    if (Atomics.load(flag, 0) !== 0) throw new Cancelled()
  }
  if (job.kind === 'write-image') {
    const total = bytesToWrite(job.job)
    const report = sparingly((done: number) =>
      onProgress({ phase: 'writing the image', done, total, unit: 'bytes', current: job.final }),
    )
    return writeImagePart(job.job, job.part, job, report, cancel)
  }
  if (job.kind === 'list-folder' || job.kind === 'fill-folder') return doFolderJob(job, onProgress, cancel)
  if (job.kind === 'identify') return reading(job.target, () => identify(job.target))
  const report = sparingly((done: number, current: string) =>
    onProgress({ phase: 'reading back', done, total: null, unit: 'bytes', current }),
  )
  return reading(job.target, () => read(job, report, cancel))
}

async function identify(target: string): Promise<CardIdentity> {
  if (statSync(target).isDirectory()) return identifyFolder(target)
  const image = openImageFile(target)
  try {
    return await identifyImage(image)
  } finally {
    image.close()
  }
}

async function read(
  job: CardJob & { kind: 'read-card' },
  report: (done: number, path: string) => void,
  cancel: () => void,
): Promise<CardReading> {
  if (statSync(job.target).isDirectory()) return readCardFolder(job.target, report, cancel)
  const image = openImageFile(job.target)
  try {
    return await readCardImage(image, job.stretches, report, cancel)
  } finally {
    image.close()
  }
}

/** Tells what the operating system says of a target in the words of `CardReader`. */
async function reading<T>(target: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (error) {
    const code = (error as { code?: unknown }).code
    if (error instanceof AppError || typeof code !== 'string') throw error
    const isGone = code === 'ENOENT' || code === 'ENOTDIR'
    throw new AppError(
      {
        code: isGone ? 'verify/not-found' : 'verify/unreadable',
        what: isGone ? 'There is no such image or folder.' : `It cannot be read (${code}).`,
        where: target,
        mend: isGone ? 'Check the path.' : 'Check that you may read it, and that the card is well seated.',
        kind: isGone ? 'input' : 'machine',
      },
      { cause: error },
    )
  }
}

function sparingly<A extends unknown[]>(report: (...args: A) => void): (...args: A) => void {
  let last = 0
  return (...args) => {
    const now = performance.now()
    if (now - last < REPORT_EVERY_MS) return
    last = now
    report(...args)
  }
}
