import { parentPort } from 'node:worker_threads'
import { toReport } from '../../app/errors/app-error.ts'
import { ScanDesk } from './scan-desk.ts'
import type { NumberedScanJob, ScanEvent } from './scan-messages.ts'

const port = parentPort
if (port === null) throw new TypeError('scan.entry runs in a worker')
const send = (event: ScanEvent, transfer: readonly ArrayBuffer[] = []): void =>
  port.postMessage(event, [...transfer])
const desk = new ScanDesk()

port.on('message', async ({ id, job }: NumberedScanJob) => {
  try {
    const { result, transfer } = await desk.work(job, {
      onSeen: (files) => send({ id, type: 'seen', files }),
      onHashed: (index, hashed) => send({ id, type: 'hashed', index, hashed }),
    })
    send({ id, type: 'done', result }, transfer)
  } catch (error) {
    const detail = error instanceof Error ? (error.stack ?? '') : String(error)
    send({ id, type: 'failed', report: toReport(error), detail })
  }
})
