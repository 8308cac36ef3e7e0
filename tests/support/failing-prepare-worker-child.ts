import { parentPort } from 'node:worker_threads'
import type { PrepareJob } from '../../main/workers/prepare-messages.ts'

// A preparing worker whose sounds say by their path how they end: `fine`, `dies` or `hangs`.

const port = parentPort
if (port === null) throw new TypeError('this runs in a worker')
port.on('message', (job: PrepareJob | { type: 'cancel' }) => {
  if (job.type !== 'make') return
  for (const [place, { original }] of job.sounds.entries()) {
    if (original.path === 'dies') process.exit(1)
    if (original.path === 'hangs') return
    port.postMessage({ id: job.id, place, sound: { made: { path: original.path } } })
  }
  port.postMessage({ id: job.id, finished: true })
})
