import { useMutation, useQueryClient } from '@tanstack/react-query'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import {
  isLongCall,
  type AskName,
  type AskRequest,
  type AskResponse,
  type LongCallName,
} from '../../app/contract/door.ts'
import type { AppError } from '../../app/errors/app-error.ts'
import { ask, run } from '../client/client.ts'
import { asAppError } from './loaded.ts'

/** A long one is waited for to its end; the tray shows how far it is. */
export type ChangeName = AskName | LongCallName
export type ChangeRequest<C extends ChangeName> = C extends LongCallName
  ? RequestOf<C>
  : C extends AskName
    ? AskRequest<C>
    : never
export type ChangeResponse<C extends ChangeName> = C extends LongCallName
  ? ResponseOf<C>
  : C extends AskName
    ? AskResponse<C>
    : never

export interface Change<C extends ChangeName> {
  /** Resolves with what came of it; undefined where it failed, and `error` tells why. */
  run(request: ChangeRequest<C>): Promise<ChangeResponse<C> | undefined>
  readonly isRunning: boolean
  readonly error: AppError | null
}

/** A call that changes records; everything on screen is asked for again afterwards. */
export function useChange<C extends ChangeName>(call: C): Change<C> {
  const client = useQueryClient()
  const mutation = useMutation({
    mutationFn: (request: ChangeRequest<C>) => changed(call, request),
    onSuccess: () => client.invalidateQueries(),
  })
  return {
    run: (request) => mutation.mutateAsync(request).catch(() => undefined),
    isRunning: mutation.isPending,
    error: mutation.error === null ? null : asAppError(mutation.error),
  }
}

function changed<C extends ChangeName>(call: C, request: ChangeRequest<C>): Promise<ChangeResponse<C>> {
  const done = isLongCall(call)
    ? run(call, request as RequestOf<LongCallName>)
    : ask(call as AskName, request as AskRequest<AskName>)
  return done as Promise<ChangeResponse<C>>
}
