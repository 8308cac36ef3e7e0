import { keepPreviousData, useQuery } from '@tanstack/react-query'
import type { AskName, AskRequest, AskResponse } from '../../app/contract/door.ts'
import { ask } from '../client/client.ts'
import { loadedOf, type Loaded } from './loaded.ts'

/** Asks once, and again after every change; null asks nothing and waits. */
export function useAsk<C extends AskName>(call: C, request: AskRequest<C> | null): Loaded<AskResponse<C>> {
  return loadedOf(
    useQuery({
      queryKey: [call, request],
      queryFn: () => ask(call, request as AskRequest<C>),
      enabled: request !== null,
      placeholderData: keepPreviousData,
    }),
  )
}
