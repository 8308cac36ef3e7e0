import type { z } from 'zod'
import { AppError } from '../errors/app-error.ts'
import { issueSentence } from '../errors/issue-in-words.ts'
import { calls, type CallName, type RequestOf } from './calls.ts'

/**
 * A request as the contract wants it.
 * @throws AppError `request/unfit`, naming the first value that does not fit.
 */
export function checkRequest<C extends CallName>(call: C, request: unknown): RequestOf<C> {
  const schema: z.ZodType = calls[call].request
  const result = schema.safeParse(request)
  if (result.success) return result.data as RequestOf<C>
  const [issue] = result.error.issues
  throw new AppError({
    code: 'request/unfit',
    what: issueSentence(issue),
    where: issue === undefined || issue.path.length === 0 ? call : issue.path.join('.'),
    mend: 'Correct this value and try again.',
  })
}
