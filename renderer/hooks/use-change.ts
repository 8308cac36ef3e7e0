import { useMutation, useQueryClient } from '@tanstack/react-query'
import type { AppError } from '../../app/errors/app-error.ts'
import type { AskName, AskRequest, AskResponse } from '../../app/contract/door.ts'
import { ask } from '../client/client.ts'
import { asAppError } from './loaded.ts'

export interface Change<C extends AskName> {
  /** Resolves with what came of it; undefined where it failed, and `error` tells why. */
  run(request: AskRequest<C>): Promise<AskResponse<C> | undefined>
  readonly isRunning: boolean
  readonly error: AppError | null
}

/** A call that changes records; everything on screen is asked for again afterwards. */
export function useChange<C extends AskName>(call: C): Change<C> {
  const client = useQueryClient()
  const mutation = useMutation({
    mutationFn: (request: AskRequest<C>) => ask(call, request),
    onSuccess: () => client.invalidateQueries(),
  })
  return {
    run: (request) => mutation.mutateAsync(request).catch(() => undefined),
    isRunning: mutation.isPending,
    error: mutation.error === null ? null : asAppError(mutation.error),
  }
}
