import { v7 } from 'uuid'
import type { Clock, NewId } from '../app/ports/machine.ts'

/** The machine's time, in UTC. */
export const systemClock: Clock = {
  now: () => `${new Date().toISOString().slice(0, 19)}Z`,
}

/** Fresh ids that sort by time. */
export const newUuid: NewId = () => v7()
