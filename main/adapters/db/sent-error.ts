import { AppError, fromReport, toReport } from '../../../app/errors/app-error.ts'
import type { SentError } from './database-messages.ts'

/** Readies an error for another thread, which keeps neither classes nor codes. */
export function sendError(thrown: unknown): SentError {
  if (thrown instanceof AppError) return { report: toReport(thrown) }
  const error = thrown instanceof Error ? thrown : new Error(String(thrown))
  return { bug: { name: error.name, message: error.message, stack: error.stack ?? '' } }
}

/** The error again, as it was thrown in the other thread. */
export function receiveError(sent: SentError): Error {
  if ('report' in sent) return fromReport(sent.report)
  const error = new Error(sent.bug.message)
  error.name = sent.bug.name
  error.stack = sent.bug.stack
  return error
}
