import { CHANGED_CHANNEL, type Answer, type Job } from '../../app/contract/door.ts'
import type { Door } from './door.ts'
import { soundAddress } from './sound-address.ts'

const UNREACHABLE: Answer = {
  ok: false,
  error: {
    code: 'door/unreachable',
    what: 'Cardwright does not answer.',
    where: '',
    mend: 'It may have been closed: start it again and open the address it prints.',
  },
}

/** The loopback door: calls by POST, what happens there as server-sent events. */
export function httpDoor(): Door {
  return {
    async send(channel, request) {
      try {
        const response = await fetch(`/call/${channel}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify(request),
        })
        return (await response.json()) as Answer
      } catch {
        return UNREACHABLE
      }
    },
    listen({ job, changed }) {
      const events = new EventSource('/jobs')
      events.addEventListener('message', ({ data }: MessageEvent<string>) => job(JSON.parse(data) as Job))
      events.addEventListener(CHANGED_CHANNEL, changed)
      // What happened while the stream was cut was told to nobody.
      events.addEventListener('open', () => events.addEventListener('open', changed), { once: true })
    },
    soundAddress,
  }
}
