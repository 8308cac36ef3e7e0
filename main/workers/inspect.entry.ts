import { parentPort } from 'node:worker_threads'
import { toReport } from '../../app/errors/app-error.ts'
import { hearFile } from './hear-file.ts'
import { inspectBytes, inspectFile } from './inspect-file.ts'
import type { FileAnswer, InspectAnswer, InspectJob } from './inspect-messages.ts'
import { openKernel } from './open-kernel.ts'

const port = parentPort
if (port === null) throw new Error('This file runs only as a worker.')
const kernel = openKernel()

function post(message: InspectAnswer, transfer: ArrayBuffer[] = []): void {
  port?.postMessage(message, transfer)
}

async function readOne(job: InspectJob, place: number, path: string): Promise<FileAnswer> {
  if (job.type === 'speaker') {
    const sha256 = job.sha256s[place] ?? null
    return { type: 'speaker', readings: await hearFile(path, sha256, job.limitHz, kernel) }
  }
  const read = job.type === 'bytes' ? inspectBytes(job.bytes, job.name, kernel) : inspectFile(path, kernel)
  const { inspection, peaks } = await read
  return { type: 'inspected', inspected: { inspection, peaks } }
}

async function answerOne(job: InspectJob, place: number, path: string): Promise<void> {
  const answer = await readOne(job, place, path).catch((error: unknown): FileAnswer => ({
    type: 'failed',
    error: toReport(error),
  }))
  const peaks = answer.type === 'inspected' ? answer.inspected.peaks : null
  post({ id: job.id, place, answer }, peaks === null ? [] : [peaks.buffer as ArrayBuffer])
}

port.on('message', async (job: InspectJob) => {
  const paths = job.type === 'bytes' ? [job.name] : job.paths
  for (const [place, path] of paths.entries()) await answerOne(job, place, path)
  post({ id: job.id, finished: true })
})
