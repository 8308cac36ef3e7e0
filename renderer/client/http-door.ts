import type { Answer, Job } from '../../app/contract/door.ts'
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

/** The loopback door: calls by POST, job events as server-sent events. */
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
    onJob(listener) {
      const events = new EventSource('/jobs')
      events.addEventListener('message', ({ data }: MessageEvent<string>) =>
        listener(JSON.parse(data) as Job),
      )
      return () => events.close()
    },
    soundAddress,
  }
}
