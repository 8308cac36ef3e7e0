import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

const SECRET_BYTES = 32
/** More browsers at once than any bench has; the oldest session ends then. */
const MOST_SESSIONS = 16

/** Who may come in: tokens that work once, and the sessions they were exchanged for. */
export interface Entrance {
  /** A token for one browser, worth nothing after its first use. */
  newToken(): string
  /** The session's secret in exchange for a token; undefined where it is wrong or was used. */
  exchange(token: string): string | undefined
  isSession(secret: string): boolean
}

export function openEntrance(): Entrance {
  const tokens = new Set<string>()
  const sessions = new Set<string>()
  return {
    newToken() {
      const token = newSecret()
      tokens.add(hashed(token))
      return token
    },
    exchange(token) {
      const found = findSame(tokens, token)
      if (found === undefined) return undefined
      tokens.delete(found)
      const session = newSecret()
      sessions.add(hashed(session))
      const [oldest] = sessions
      if (sessions.size > MOST_SESSIONS && oldest !== undefined) sessions.delete(oldest)
      return session
    },
    isSession: (secret) => findSame(sessions, secret) !== undefined,
  }
}

function newSecret(): string {
  return randomBytes(SECRET_BYTES).toString('base64url')
}

/** Only hashes are kept, so that comparing takes the same time whatever was sent. */
function hashed(secret: string): string {
  return createHash('sha256').update(secret).digest('base64url')
}

function findSame(hashes: ReadonlySet<string>, secret: string): string | undefined {
  const wanted = Buffer.from(hashed(secret))
  return [...hashes].find((each) => timingSafeEqual(Buffer.from(each), wanted))
}
