import type { CardReader } from '../../../app/ports/card-reader.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import { runCardJob } from '../../workers/run-card-job.ts'
import { keepsEntryOrder } from '../drives/volume-below.ts'

const UNWATCHED: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }

/** Reads cards back in a worker: images through js-fatfs, folders by the operating system. */
export const cardReader: CardReader = {
  identify: (target) => runCardJob({ kind: 'identify', target }, UNWATCHED),
  async read(target, stretches, control) {
    const reading = await runCardJob({ kind: 'read-card', target, stretches }, control)
    return reading.litter === undefined
      ? reading
      : { ...reading, isInEntryOrder: await keepsEntryOrder(target) }
  },
}
