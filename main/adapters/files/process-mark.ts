import { randomBytes } from 'node:crypto'
import { getEnvironmentData, setEnvironmentData } from 'node:worker_threads'

const KEY = 'cardwright process token'

/**
 * What this very process is known by in the names of what it has half done: its number, which other
 * processes had before it, and a token that is its own. Threads started once this is loaded share it.
 */
export const OWN_MARK = `${process.pid}_${ownToken()}`

/** A mark, or the number alone as names had it before; the number is its first group. */
export const MARK_PATTERN = String.raw`(\d+)(?:_[0-9a-f]{16})?`

function ownToken(): string {
  const known = getEnvironmentData(KEY)
  if (typeof known === 'string') return known
  const token = randomBytes(8).toString('hex')
  setEnvironmentData(KEY, token)
  return token
}
