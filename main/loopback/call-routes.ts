import type { FastifyInstance } from 'fastify'
import { CHANGED_CHANNEL } from '../../app/contract/door.ts'
import type { Answers } from '../answer.ts'

/** Keeps proxies and browsers from closing a quiet stream. */
const STILL_HERE_MS = 20_000

/**
 * `POST /call/<name>` for every call. `GET /jobs` as server-sent events (HTML Living Standard, 9.2):
 * jobs as messages, and a `changed` event when another process changed the workshop.
 */
export function addCallRoutes(server: FastifyInstance, answers: Answers): void {
  server.post<{ Params: { name: string } }>('/call/:name', (request) =>
    answers.send(request.params.name, request.body),
  )

  server.get('/jobs', (request, reply) => {
    reply.hijack()
    const stream = reply.raw
    const safe = reply.getHeaders() as Record<string, string>
    stream.writeHead(200, { ...safe, 'content-type': 'text/event-stream' })
    stream.write(': open\n\n')
    const stops = [
      answers.onJob((job) => void stream.write(`data: ${JSON.stringify(job)}\n\n`)),
      answers.onForeignChange(() => void stream.write(`event: ${CHANGED_CHANNEL}\ndata:\n\n`)),
    ]
    const beat = setInterval(() => void stream.write(': still here\n\n'), STILL_HERE_MS)
    beat.unref()
    request.raw.on('close', () => {
      clearInterval(beat)
      for (const stop of stops) stop()
    })
  })
}
