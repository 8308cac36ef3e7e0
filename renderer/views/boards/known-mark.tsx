import type { Knowledge } from '../../../app/model/board.ts'

const TONES: Readonly<Record<Knowledge, string>> = {
  stated: 'tone-good',
  'seen playing': 'tone-good',
  'seen failing': 'tone-care',
  unknown: 'tone-unknown',
}

/** How a limit is known. */
export function KnownMark({ known }: { readonly known: Knowledge }) {
  return <span className={`mark ${TONES[known]}`}>{known}</span>
}
