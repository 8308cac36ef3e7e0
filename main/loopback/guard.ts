import type { FastifyReply, FastifyRequest } from 'fastify'
import type { ErrorReport } from '../../app/errors/app-error.ts'
import { SAFE_HEADERS } from '../window-files.ts'
import type { Entrance } from './entrance.ts'

/** The one path that is open without a session: it takes a token. */
export const ENTER_PATH = '/enter'

export interface GuardOptions {
  /** `127.0.0.1:<port>`, once the port is known. */
  readonly host: () => string
  readonly cookieName: () => string
  readonly entrance: Entrance
}

/** Holds every request to this door's own host, origin and sessions, before anything else is done. */
export function createGuard({ host, cookieName, entrance }: GuardOptions) {
  return async function guard(request: FastifyRequest, reply: FastifyReply): Promise<unknown> {
    void reply.headers(SAFE_HEADERS)
    // A DNS name that was rebound to 127.0.0.1 arrives with its own name here.
    if (request.headers.host !== host()) {
      return refuse(reply, 421, 'door/wrong-host', 'This address is not the one Cardwright printed.')
    }
    if (isFromElsewhere(request, `http://${host()}`)) {
      return refuse(reply, 403, 'door/foreign-origin', 'Another web page tried to use Cardwright.')
    }
    const isEntering = request.method === 'GET' && pathOf(request) === ENTER_PATH
    if (isEntering || entrance.isSession(request.cookies[cookieName()] ?? '')) return undefined
    return refuse(reply, 401, 'door/no-session', 'This browser was not let in, or Cardwright was restarted.')
  }
}

/**
 * Browsers name the origin on every request that changes something, and say of every request whether
 * it comes from another site (Fetch Metadata, W3C). A link from anywhere may open the entrance.
 */
function isFromElsewhere(request: FastifyRequest, own: string): boolean {
  const { origin } = request.headers
  const mayRead = request.method === 'GET' || request.method === 'HEAD'
  if (origin === undefined ? !mayRead : origin !== own) return true
  if (pathOf(request) === ENTER_PATH) return false
  const site = request.headers['sec-fetch-site']
  return site !== undefined && site !== 'same-origin' && site !== 'none'
}

function pathOf(request: FastifyRequest): string {
  return request.url.split('?', 1)[0] ?? ''
}

const NEW_ADDRESS = 'Start Cardwright again and open the address it prints.'

/** Answers with a report that both people and the window can read. */
export function refuse(reply: FastifyReply, status: number, code: string, what: string, mend = NEW_ADDRESS) {
  const error: ErrorReport = { code, what, where: '', mend }
  return reply.code(status).send({ ok: false, error })
}
