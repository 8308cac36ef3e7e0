import { fastifyCookie } from '@fastify/cookie'
import { fastify, type FastifyError, type FastifyInstance } from 'fastify'
import type { Core } from '../../app/contract/core.ts'
import { openAnswers, type OnForeignChange } from '../answer.ts'
import { listFolder } from '../list-folder.ts'
import type { OpenSound } from '../sound-opener.ts'
import { readWindowFiles } from '../window-files.ts'
import { addCallRoutes } from './call-routes.ts'
import { openEntrance } from './entrance.ts'
import { createGuard, ENTER_PATH, refuse } from './guard.ts'
import { addPageRoutes } from './page-routes.ts'
import { addSoundRoute } from './sound-route.ts'

/** A build's config text may have a million characters; all else is far smaller. */
const MOST_BODY_BYTES = 4_000_000
const ADDRESS = '127.0.0.1'

export interface LoopbackDoorOptions {
  /** Folder of the built window, as build-renderer.ts makes it. */
  readonly windowFolder: string
  /** Null where originals cannot be played; the window then shows no way to. */
  readonly openSound: OpenSound | null
  /** Missing where nobody else can change anything. */
  readonly onForeignChange?: OnForeignChange
  /** Told of every fault of our own. */
  readonly onFault: (thrown: unknown) => void
}

export interface LoopbackDoor {
  /** Lets one browser in, once. */
  readonly url: string
  /** Another such address, for another browser or after the first was closed. */
  newUrl(): string
  /** Cancels what runs, ends every connection. */
  close(): Promise<void>
}

/**
 * Serves the window on a free port of 127.0.0.1 until closed.
 * @throws AppError `window/not-built`.
 */
export async function openLoopbackDoor(core: Core, options: LoopbackDoorOptions): Promise<LoopbackDoor> {
  const files = readWindowFiles(options.windowFolder)
  const answers = openAnswers(core, {
    onFault: options.onFault,
    ...(options.onForeignChange === undefined ? {} : { onForeignChange: options.onForeignChange }),
    abilities: {
      about: { door: 'loopback', choosesPaths: false, playsSounds: options.openSound !== null },
      choosePath: () => Promise.resolve(null),
      listFolder,
    },
  })
  const entrance = openEntrance()
  let port = 0
  // Cookies know no ports: two workshops open at once must not overwrite each other's.
  const cookieName = () => `cardwright-${port}`

  const server = fastify({ bodyLimit: MOST_BODY_BYTES, forceCloseConnections: true, exposeHeadRoutes: false })
  acceptJsonOnly(server)
  await server.register(fastifyCookie)
  server.addHook('onRequest', createGuard({ host: () => `${ADDRESS}:${port}`, cookieName, entrance }))
  server.setErrorHandler<FastifyError>((error, _request, reply) => {
    const status = error.statusCode ?? 500
    if (status >= 500) options.onFault(error)
    return refuse(reply, status, `door/${status}`, REFUSALS[status] ?? 'The request could not be read.', '')
  })
  server.setNotFoundHandler((_request, reply) =>
    refuse(reply, 404, 'door/not-found', 'There is nothing here.', ''),
  )
  addCallRoutes(server, answers)
  if (options.openSound !== null) addSoundRoute(server, options.openSound)
  addPageRoutes(server, { files, entrance, cookieName })

  await server.listen({ host: ADDRESS, port: 0 })
  const bound = server.server.address()
  if (bound === null || typeof bound === 'string') throw new TypeError('A server without a port.')
  port = bound.port
  const newUrl = () => `http://${ADDRESS}:${port}${ENTER_PATH}?token=${entrance.newToken()}`
  return {
    url: newUrl(),
    newUrl,
    async close() {
      await answers.close()
      await server.close()
    },
  }
}

const REFUSALS: Readonly<Record<number, string>> = {
  400: 'The request is no well-formed JSON.',
  413: 'The request is too large.',
  415: 'Only JSON is read here.',
}

/** A form of another site can post text or form data, but not JSON, without asking the browser first. */
function acceptJsonOnly(server: FastifyInstance): void {
  server.removeContentTypeParser('text/plain')
}
