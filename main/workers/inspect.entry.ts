import { parentPort } from 'node:worker_threads'
import { toReport } from '../../app/errors/app-error.ts'
import type { InspectedSound } from '../../app/ports/sound-inspector.ts'
import { inspectBytes, inspectFile } from './inspect-file.ts'
import type { InspectAnswer, InspectJob } from './inspect-messages.ts'
import { openKernel } from './open-kernel.ts'

const port = parentPort
if (port === null) throw new Error('This file runs only as a worker.')
const kernel = openKernel()

function answer(message: InspectAnswer, transfer: ArrayBuffer[] = []): void {
  port?.postMessage(message, transfer)
}

async function run(id: number, place: number, read: () => InspectedSound): Promise<void> {
  try {
    const { inspection, peaks } = read()
    const transfer = peaks === null ? [] : [peaks.buffer as ArrayBuffer]
    answer({ type: 'done', id, place, inspected: { inspection, peaks } }, transfer)
  } catch (error) {
    answer({ type: 'failed', id, place, error: toReport(error) })
  }
}

const neverCancelled = () => {}

// A job is cancelled by ending the worker: its work is synchronous and hears no message meanwhile.
port.on('message', async (job: InspectJob) => {
  if (job.type === 'bytes') {
    await run(job.id, 0, () => inspectBytes(job.bytes, kernel, neverCancelled))
  } else {
    for (const [place, path] of job.paths.entries()) {
      await run(job.id, place, () => inspectFile(path, kernel, neverCancelled))
    }
  }
  answer({ type: 'finished', id: job.id })
})
