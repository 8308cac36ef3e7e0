import { Button } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Job } from '../../../app/contract/door.ts'
import { Icon } from '../../elements/icon.tsx'
import { keptIn, keptInWords } from '../../elements/kept-in-words.ts'
import { ProgressLine } from '../../elements/progress-line.tsx'
import { useJobs } from '../../hooks/use-jobs.ts'
import type { PrepareReport } from '../../hooks/use-preparing.ts'
import { countsInWords } from '../prepare/prepared-in-words.ts'

const WORDS: Readonly<Record<Job['call'], string>> = {
  scan: 'Scan',
  make: 'Make card',
  verify: 'Verify',
  'contents:remake': 'Remake',
  'make:into': 'Write card',
  'contents:remake-into': 'Remake card',
  prepare: 'Prepare',
  'demo:prepare': 'Make the demo workshop',
  'boards:draft': 'Draft a board',
  'boards:learn': 'Learn from sounds',
  'check:card': 'Check a card',
  'check:report': 'Page for a creator',
  'licences:add': 'Record a licence',
  'licences:change': 'Change a licence',
  'builds:add': 'Record a build',
  'builds:change': 'Change a build',
  'builds:sounds': 'Change a sound of a build',
  'originals:keep': 'Keep originals',
} as Readonly<Record<Job['call'], string>>

/** Long calls under way, whichever page is open; how they ended, until taken off. */
export function Tray() {
  const { jobs, cancel, dismiss } = useJobs()
  const shown = shownJobs(jobs)
  if (shown.length === 0) return null
  return (
    <section className="tray" aria-label="Jobs">
      <ul>
        {shown.map((job) => {
          const name = `${WORDS[job.call]} ${job.about}`.trim()
          return (
            <li className="tray-job" key={job.jobId}>
              <span className="break">
                <strong>{WORDS[job.call]}</strong> <span className="quiet">{job.about}</span>
              </span>
              {job.state === 'running' ? (
                <ProgressLine name={name} progress={job.progress} />
              ) : (
                <span role="status">{endInWords(job)}</span>
              )}
              {job.state === 'running' ? (
                <Button
                  size="sm"
                  variant="default"
                  aria-label={`Cancel: ${name}`}
                  onClick={() => cancel(job.jobId)}
                >
                  Cancel
                </Button>
              ) : (
                <button
                  type="button"
                  className="small-button"
                  aria-label={`Take off the list: ${name}`}
                  onClick={() => dismiss(job.jobId)}
                >
                  <Icon name="remove" />
                </button>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

/**
 * What runs, what failed last time it was tried, and how the latest ended; older good news has been read
 * where it was asked for. Checks run by themselves whenever a card changes, and show there.
 */
function shownJobs(jobs: readonly Job[]): readonly Job[] {
  const asked = jobs.filter((job) => job.call !== 'check' && !isPlainRecord(job))
  const latest = asked.at(-1)
  return asked.filter((job, index) => {
    if (job.state === 'running' || job === latest) return true
    const wasTriedAgain = asked.slice(index + 1).some((later) => later.call === job.call)
    return job.state === 'failed' && !wasTriedAgain
  })
}

/** A record that brings nothing into the store: its page says that it is saved, or why not. */
function isPlainRecord({ call, state, progress, value }: Job): boolean {
  if (!RECORDS.has(call)) return false
  if (state !== 'done') return progress === null
  return keptInWords(keptIn(value) ?? NOTHING_KEPT).length === 0
}

const RECORDS = new Set<Job['call']>([
  'licences:add',
  'licences:change',
  'builds:add',
  'builds:change',
  'builds:sounds',
])
const NOTHING_KEPT = { fonts: [], files: 0, bytes: 0, problems: [] }

function endInWords({ call, state, error, value }: Job): string {
  if (state === 'done') {
    if (call === 'prepare') return `Done. ${countsInWords(value as PrepareReport)}`
    if (call === 'verify' && !(value as ResponseOf<'verify'>).verified) return 'Done: something differs.'
    return ['Done.', ...keptInWords(keptIn(value) ?? NOTHING_KEPT)].join(' ')
  }
  if (error === null || state === 'cancelled') return 'Cancelled; nothing was left half-made.'
  return `${error.what} ${error.mend}`
}
