import { useSyncExternalStore } from 'react'
import type { Job } from '../../app/contract/door.ts'
import { cancelJob, currentJobs, dismissJob, onJob } from '../client/client.ts'

export interface Jobs {
  readonly jobs: readonly Job[]
  cancel(jobId: string): void
  dismiss(jobId: string): void
}

/** One of them, undefined where it is not listed; the others' progress draws nothing anew. */
export function useJob(jobId: string | null): Job | undefined {
  return useSyncExternalStore(onJob, () => currentJobs().find((job) => job.jobId === jobId))
}

/** Long calls under way, and those that ended and were not taken off the list. */
export function useJobs(): Jobs {
  const jobs = useSyncExternalStore(onJob, currentJobs)
  return { jobs, cancel: (jobId) => void cancelJob(jobId), dismiss: (jobId) => void dismissJob(jobId) }
}
