import { mkdirSync, rmSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import { Cancelled, type ErrorReport } from '../../app/errors/app-error.ts'
import { WAVEFILE_MOST_BYTES } from '../adapters/media/decode-by-wavefile.ts'
import { openKernel } from './open-kernel.ts'
import { openRounder } from './open-rounder.ts'
import { answerGroups, makeSounds } from './prepare-job.ts'
import type { PrepareTools } from './prepare-tools.ts'
import { preparingFault } from './preparing-faults.ts'
import type { PrepareAnswer, PrepareCancel, PrepareJob, PrepareWorkerData } from './prepare-messages.ts'

const port = parentPort
if (port === null) throw new TypeError('prepare.entry runs in a worker')
const { cancelFlag } = workerData as PrepareWorkerData
const flag = new Int32Array(cancelFlag)
const abort = new AbortController()
let number = 0
let room = new Uint8Array()

const tools: Omit<PrepareTools, 'abilities' | 'scratchFolder'> = {
  kernel: openKernel(),
  rounder: openRounder(),
  roomFor: (sizeBytes) => {
    if (room.length < sizeBytes)
      room = new Uint8Array(Math.max(sizeBytes, Math.min(2 * room.length, WAVEFILE_MOST_BYTES)))
    return room.subarray(0, sizeBytes)
  },
  cancel: () => {
    if (Atomics.load(flag, 0) !== 0) throw new Cancelled()
  },
  abort: abort.signal,
  nextNumber: () => ++number,
  remove: (path) => {
    try {
      rmSync(path, { force: true })
    } catch {
      // It goes with the folder when the run is over.
    }
  },
}

const post = (answer: PrepareAnswer): void => port.postMessage(answer)

async function work(job: PrepareJob): Promise<void> {
  const { id, abilities, scratchFolder } = job
  const jobTools = { ...tools, abilities, scratchFolder }
  try {
    const problem = faultOfFolder(scratchFolder)
    if (problem !== null) refuseAll(job, problem)
    else if (job.type === 'answer') {
      await answerGroups(job.groups, jobTools, (place, answers) => post({ id, place, answers }))
    } else {
      await makeSounds(job.sounds, jobTools, (place, sound) => post({ id, place, sound }))
    }
  } catch (error) {
    // The one who cancelled knows, and expects no more answers.
    if (!(error instanceof Cancelled)) throw error
  }
  post({ id, finished: true })
}

/** Why the folder for what is half done cannot be made; null where it stands. */
function faultOfFolder(path: string): ErrorReport | null {
  try {
    mkdirSync(path, { recursive: true })
    return null
  } catch (error) {
    return preparingFault(error)
  }
}

function refuseAll(job: PrepareJob, problem: ErrorReport): void {
  const { id } = job
  if (job.type === 'answer') job.groups.forEach((_, place) => post({ id, place, answers: { problem } }))
  else job.sounds.forEach((_, place) => post({ id, place, sound: { problem } }))
}

port.on('message', (message: PrepareJob | PrepareCancel) => {
  if (message.type === 'cancel') abort.abort()
  else void work(message)
})
