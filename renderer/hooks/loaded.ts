import type { UseQueryResult } from '@tanstack/react-query'
import { AppError, toReport } from '../../app/errors/app-error.ts'

/** What is asked for: not there yet, not to be had, or there. No half-loaded state can be drawn. */
export type Loaded<T> =
  | { readonly state: 'waiting' }
  | { readonly state: 'failed'; readonly error: AppError; readonly again: () => void }
  | { readonly state: 'ready'; readonly value: T }

export function loadedOf<T>(query: UseQueryResult<T>): Loaded<T> {
  if (query.data !== undefined) return { state: 'ready', value: query.data }
  if (query.error !== null) {
    return { state: 'failed', error: asAppError(query.error), again: () => void query.refetch() }
  }
  return { state: 'waiting' }
}

/** The value once it is there, for what can do without it meanwhile. */
export function valueOr<T, D>(loaded: Loaded<T>, otherwise: D): T | D {
  return loaded.state === 'ready' ? loaded.value : otherwise
}

export function asAppError(thrown: unknown): AppError {
  return thrown instanceof AppError ? thrown : new AppError(toReport(thrown))
}
