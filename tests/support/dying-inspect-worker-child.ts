import { parentPort } from 'node:worker_threads'
import type { InspectAnswer, InspectJob } from '../../main/workers/inspect-messages.ts'
import { problemOnly } from '../../main/workers/inspect-problems.ts'

// Stands in for the inspecting worker: dies over a file named so, hangs over another, answers the rest.
parentPort?.on('message', (job: InspectJob) => {
  const paths = job.type === 'bytes' ? [job.name] : job.paths
  paths.forEach((path, place) => {
    if (path.includes('dies')) throw new Error('a fault of ours')
    if (path.includes('exits')) process.exit(7)
    while (path.includes('hangs'));
    const inspected = problemOnly('answered', path)
    const answer: InspectAnswer = { id: job.id, place, answer: { type: 'inspected', inspected } }
    parentPort?.postMessage(answer)
  })
  const finished: InspectAnswer = { id: job.id, finished: true }
  parentPort?.postMessage(finished)
})
