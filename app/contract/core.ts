import type { RunControl } from '../ports/progress.ts'
import type { CallName, RequestOf, ResponseOf } from './calls.ts'

/**
 * The core as every door sees it: one function a call. Requests are already parsed by the door's
 * schema; what is thrown is an AppError, or a bug.
 */
export type Core = {
  readonly [C in CallName]: (request: RequestOf<C>, control: RunControl) => Promise<ResponseOf<C>>
}
