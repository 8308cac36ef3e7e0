import { keepPreviousData, replaceEqualDeep, useQuery } from '@tanstack/react-query'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { runUnlisted } from '../client/client.ts'
import { loadedOf, type Loaded } from './loaded.ts'

type Checked = ResponseOf<'check'>
export type CheckedFont = Checked['fonts'][number]

/**
 * Findings of the fonts of a card, and of the card as a whole; null checks nothing. The last ones stand
 * until the next are there: whoever shows them for another card is to begin anew. What is found again as
 * it was, of a font or of the card, is the same object as before, in whatever order the fonts are.
 */
export function useCheckedCard(request: RequestOf<'check'> | null): Loaded<Checked> {
  return loadedOf(
    useQuery({
      queryKey: ['check', request],
      queryFn: () => runUnlisted('check', request as RequestOf<'check'>).then(withLastObjects),
      enabled: request !== null,
      placeholderData: keepPreviousData,
    }),
  )
}

let last: Checked | null = null

function withLastObjects(report: Checked): Checked {
  const before = new Map(last?.fonts.map((font) => [font.editionId, font]))
  last = {
    ...report,
    fonts: report.fonts.map((font) => replaceEqualDeep(before.get(font.editionId), font)),
    cardFindings: replaceEqualDeep(last?.cardFindings, report.cardFindings),
  }
  return last
}
