import { Readable } from 'node:stream'
import type { ReadableStream as NodeReadableStream } from 'node:stream/web'
import type { FastifyInstance } from 'fastify'
import type { OpenSound } from '../sound-opener.ts'
import { soundResponse } from '../sound-response.ts'

/** `GET /sound/<id>`: a sound's original. The id is looked up in the library; it is never a path. */
export function addSoundRoute(server: FastifyInstance, openSound: OpenSound): void {
  server.get<{ Params: { soundId: string } }>('/sound/:soundId', async (request, reply) => {
    const response = await soundResponse(openSound, request.params.soundId, request.headers.range)
    void reply.code(response.status).headers(response.headers)
    return reply.send(
      typeof response.body === 'string'
        ? response.body
        : Readable.fromWeb(response.body as NodeReadableStream<Uint8Array>),
    )
  })
}
