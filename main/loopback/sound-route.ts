import { Readable } from 'node:stream'
import type { ReadableStream as NodeReadableStream } from 'node:stream/web'
import type { FastifyInstance } from 'fastify'
import type { OpenSound } from '../sound-opener.ts'
import { soundResponse } from '../sound-response.ts'

interface Asked {
  Params: { soundId: string }
  Querystring: Readonly<Record<string, unknown>>
}

/**
 * `GET /sound/<id>`: a sound's original; with `?prepared-for=<board>` what was prepared of it. Ids are
 * looked up in the workshop; they are never paths.
 */
export function addSoundRoute(server: FastifyInstance, openSound: OpenSound): void {
  server.get<Asked>('/sound/:soundId', async (request, reply) => {
    const board = request.query['prepared-for']
    const response = await soundResponse(openSound, {
      soundId: request.params.soundId,
      preparedForBoardId: typeof board === 'string' ? board : undefined,
      rangeHeader: request.headers.range,
    })
    void reply.code(response.status).headers(response.headers)
    return reply.send(
      typeof response.body === 'string'
        ? response.body
        : Readable.fromWeb(response.body as NodeReadableStream<Uint8Array>),
    )
  })
}
