import type { JobProgress } from '../../app/contract/door.ts'
import { amountInWords, timeLeftInWords } from './in-words.ts'

/** How far a long call has come, as a bar and in words. */
export function ProgressLine({
  name,
  progress,
}: {
  readonly name: string
  readonly progress: JobProgress | null
}) {
  const share =
    progress === null || progress.total === null || progress.total === 0
      ? null
      : Math.min(1, progress.done / progress.total)
  const words =
    progress === null
      ? 'Starting …'
      : [progress.phase, amountInWords(progress), timeLeftInWords(progress.secondsLeft)]
          .filter((part) => part !== '')
          .join(' · ')
  return (
    <div>
      <div
        className="meter"
        role="progressbar"
        aria-label={name}
        aria-valuetext={words}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={share === null ? undefined : Math.round(share * 100)}
        data-unknown={share === null ? true : undefined}
      >
        <span style={share === null ? undefined : { width: `${share * 100}%` }} />
      </div>
      <span className="number">{words}</span>
    </div>
  )
}
