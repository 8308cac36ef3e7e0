import { randomBytes } from 'node:crypto'
import { getEnvironmentData, setEnvironmentData } from 'node:worker_threads'
import { processStart } from './process-start.ts'

const KEY = 'cardwright process token'

/**
 * What this very process is known by in the names of what it has half done: its number, which other
 * processes had before it, a token that is its own, and when it began, where the system tells that of
 * any process. Threads started once this is loaded share it.
 */
export const OWN_MARK = [process.pid, ownToken(), ...startOfThis()].join('_')

/** A mark, one without a start, or the number alone as names had it before; the number is its first group. */
export const MARK_PATTERN = String.raw`(\d+)(?:_[0-9a-f]{16}(?:_\d+)?)?`

/** When the process began that a name bears the mark of, as `processStart`; null where it does not say. */
export function startInMark(name: string, processId: number): string | null {
  const mark = new RegExp(String.raw`(?<!\d)${processId}_[0-9a-f]{16}_(\d+)`)
  return mark.exec(name)?.[1] ?? null
}

function startOfThis(): readonly string[] {
  const start = processStart(process.pid)
  return start === null ? [] : [start]
}

function ownToken(): string {
  const known = getEnvironmentData(KEY)
  if (typeof known === 'string') return known
  const token = randomBytes(8).toString('hex')
  setEnvironmentData(KEY, token)
  return token
}
