import type { Answer, Job } from '../../app/contract/door.ts'
import type { Door } from './door.ts'
import { soundAddress } from './sound-address.ts'

/** What the desktop's preload puts on the window. */
interface Bridge {
  send(channel: string, request: unknown): Promise<Answer>
  onJob(listener: (job: Job) => void): () => void
  onChanged(listener: () => void): () => void
}

/** The desktop door, where its preload has run; undefined in a browser. */
export function desktopDoor(): Door | undefined {
  const { cardwright } = globalThis as { cardwright?: Bridge }
  if (cardwright === undefined) return undefined
  return {
    send: (channel, request) => cardwright.send(channel, request),
    listen({ job, changed }) {
      cardwright.onJob(job)
      cardwright.onChanged(changed)
    },
    soundAddress,
  }
}
