import { parentPort, workerData } from 'node:worker_threads'
import { toReport } from '../../app/errors/app-error.ts'
import { doCardJob } from './card-job.ts'
import type { CardEvent, CardWorkerData } from './card-messages.ts'

const port = parentPort
if (port === null) throw new TypeError('card.entry runs in a worker')
const send = (event: CardEvent): void => port.postMessage(event)

try {
  const result = await doCardJob(workerData as CardWorkerData, (progress) =>
    send({ kind: 'progress', progress }),
  )
  send({ kind: 'done', result })
} catch (error) {
  send({
    kind: 'failed',
    report: toReport(error),
    detail: error instanceof Error ? (error.stack ?? '') : String(error),
  })
}
