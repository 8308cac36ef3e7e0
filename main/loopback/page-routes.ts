import type { FastifyInstance } from 'fastify'
import type { WindowFiles } from '../window-files.ts'
import type { Entrance } from './entrance.ts'
import { ENTER_PATH, refuse } from './guard.ts'

export interface PageRoutesOptions {
  readonly files: WindowFiles
  readonly entrance: Entrance
  readonly cookieName: () => string
}

/**
 * Moves on to the window from a page of our own: a redirect that began at another site would not carry
 * the strict cookie. Holds no script.
 */
const ENTERED_PAGE = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Cardwright</title>
<meta http-equiv="refresh" content="0;url=/"></head>
<body><p><a href="/">Open Cardwright</a></p></body></html>
`

const REFUSED_PAGE = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Cardwright</title></head>
<body><h1>This address was used already</h1>
<p>Each address that Cardwright prints lets one browser in, once. If the window is open in another tab, use that one.
Else start Cardwright again and open the address it prints.</p></body></html>
`

/** The entrance, the page, and the files of its bundle. */
export function addPageRoutes(server: FastifyInstance, options: PageRoutesOptions): void {
  const { files, entrance, cookieName } = options

  server.get<{ Querystring: { token?: unknown } }>(ENTER_PATH, (request, reply) => {
    const { token } = request.query
    void reply.type('text/html; charset=utf-8')
    const session = typeof token === 'string' ? entrance.exchange(token) : undefined
    if (session === undefined) return reply.code(403).send(REFUSED_PAGE)
    // Not `Secure`: there is no TLS on a loopback address, and not every browser makes an exception.
    void reply.setCookie(cookieName(), session, { httpOnly: true, sameSite: 'strict', path: '/' })
    return reply.send(ENTERED_PAGE)
  })

  server.get('/', (_request, reply) => {
    const { html, headers } = files.page()
    return reply.headers(headers).type('text/html; charset=utf-8').send(html)
  })

  server.get('/*', (request, reply) => {
    const file = files.file(request.url.split('?', 1)[0] ?? '')
    if (file === undefined) return refuse(reply, 404, 'door/not-found', 'There is nothing here.', '')
    return reply.type(file.mediaType).send(file.bytes)
  })
}
