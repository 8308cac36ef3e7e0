import { Cancelled } from '../../app/errors/app-error.ts'
import type { OnProgress } from '../../app/ports/progress.ts'
import { bytesToWrite, writeImagePart } from '../adapters/files/write-image.ts'
import type { CardJob, CardResults, CardWorkerData } from './card-messages.ts'

/** Between two reports of progress, in milliseconds. */
const REPORT_EVERY_MS = 100
/** More often while an image is written: what is written is brought to the disk by these. */
const WRITING_REPORT_EVERY_MS = 25

/**
 * Does one job of a card worker; what `card.entry` speaks about. What reads cards is loaded only where a
 * card is read: a worker that writes would wait for it. @throws AppError, Cancelled
 */
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
    const report = sparingly(
      (done: number) =>
        onProgress({ phase: 'writing the image', done, total, unit: 'bytes', current: job.final }),
      WRITING_REPORT_EVERY_MS,
    )
    return writeImagePart(job.job, job.part, job, report, cancel)
  }
  if (job.kind === 'list-folder' || job.kind === 'hash-in-folder' || job.kind === 'fill-folder') {
    const { doFolderJob } = await import('./folder-job.ts')
    return doFolderJob(job, onProgress, cancel)
  }
  const { identifyCard, readCard } = await import('./read-job.ts')
  if (job.kind === 'identify') return identifyCard(job.target)
  const report = sparingly((done: number, current: string) =>
    onProgress({ phase: 'reading back', done, total: null, unit: 'bytes', current }),
  )
  return readCard(job, report, cancel)
}

function sparingly<A extends unknown[]>(
  report: (...args: A) => void,
  everyMs = REPORT_EVERY_MS,
): (...args: A) => void {
  let last = 0
  return (...args) => {
    const now = performance.now()
    if (now - last < everyMs) return
    last = now
    report(...args)
  }
}
