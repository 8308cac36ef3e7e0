import { keepPreviousData, useQuery } from '@tanstack/react-query'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { runUnlisted } from '../client/client.ts'
import { loadedOf, type Loaded } from './loaded.ts'

/**
 * Findings of the fonts of a card, and of the card as a whole; null checks nothing. The last ones stand
 * until the next are there: whoever shows them for another card is to begin anew.
 */
export function useCheckedCard(request: RequestOf<'check'> | null): Loaded<ResponseOf<'check'>> {
  return loadedOf(
    useQuery({
      queryKey: ['check', request],
      queryFn: () => runUnlisted('check', request as RequestOf<'check'>),
      enabled: request !== null,
      placeholderData: keepPreviousData,
    }),
  )
}
