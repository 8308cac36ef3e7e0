import { parentPort } from 'node:worker_threads'
import { inspectSound } from '../../app/audio/inspect-sound.ts'
import type { Hasher } from '../../app/ports/bytes.ts'
import { newSha256 } from '../../main/adapters/files/new-sha256.ts'
import { openFileSource } from '../../main/workers/file-byte-source.ts'
import type { InspectAnswer, InspectJob } from '../../main/workers/inspect-messages.ts'
import { openKernel } from '../../main/workers/open-kernel.ts'

// The product's inspecting worker without the hash of the whole file: what hashing apart is held against.
const kernel = openKernel()
const nothing: Hasher = { update: () => {}, digestHex: () => '' }

parentPort?.on('message', (job: InspectJob) => {
  if (job.type !== 'files') throw new RangeError('this worker reads files only')
  job.paths.forEach((path, place) =>
    post({ id: job.id, place, answer: { type: 'inspected', inspected: read(path) } }),
  )
  post({ id: job.id, finished: true })
})

function read(path: string) {
  const source = openFileSource(path)
  // The first hasher that a pass asks for is the one of the whole file.
  let isFirst = true
  const newHasher = () => {
    const hasher = isFirst ? nothing : newSha256()
    isFirst = false
    return hasher
  }
  const { inspection, peaks } = inspectSound(source, { kernel, newHasher, cancel: () => {} })
  source.close()
  return { inspection, peaks }
}

function post(answer: InspectAnswer): void {
  parentPort?.postMessage(answer)
}
