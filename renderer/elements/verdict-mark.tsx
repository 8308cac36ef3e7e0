import type { Verdict, VerdictWord } from '../../app/model/finding.ts'
import { Icon } from './icon.tsx'
import { counted } from './in-words.ts'

export const VERDICT_TONES: Readonly<Record<VerdictWord, string>> = {
  ready: 'tone-good',
  fixable: 'tone-care',
  blocked: 'tone-bad',
  unrecognised: 'tone-unknown',
}

interface Props {
  readonly verdict: Verdict
  /** Of its prepared copies, where it has some: what a card gets. */
  readonly prepared?: Verdict | null
}

/** A verdict as a tag with its icon and word, and how much was found. */
export function VerdictMark({ verdict, prepared = null }: Props) {
  const { word, errorCount, warningCount, unknownLimitCount } = prepared ?? verdict
  const counts = [
    prepared === null ? '' : 'by prepared copies',
    errorCount > 0 ? counted(errorCount, 'error') : '',
    warningCount > 0 ? counted(warningCount, 'warning') : '',
    unknownLimitCount > 0 ? `${counted(unknownLimitCount, 'limit')} unknown` : '',
  ].filter((words) => words !== '')
  return (
    <>
      <span className={`mark ${VERDICT_TONES[word]}`}>
        <Icon name={word} />
        {word}
      </span>
      {counts.length > 0 && <span className="mark-counts">{counts.join(', ')}</span>}
    </>
  )
}
