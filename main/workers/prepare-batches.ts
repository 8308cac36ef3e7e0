import type { Batch } from './prepare-crew.ts'

/**
 * Sounds that share one start of ffmpeg, each of which takes 0.8 MiB there, and bytes of originals that
 * are half done at a time.
 */
const BATCH_SOUNDS = 48
const BATCH_BYTES = 96 << 20

/**
 * Puts sounds together that share one start of ffmpeg.
 * @param sizesBytes of the originals, by their index in the whole
 * @returns each index once, in the order in which the batches should be begun
 */
export function batchesOf(sizesBytes: readonly number[], workers: number): readonly Batch[] {
  const order = [...sizesBytes.keys()].sort((a, b) => (sizesBytes[b] ?? 0) - (sizesBytes[a] ?? 0))
  const things = order.map((index) => ({ index, sizeBytes: sizesBytes[index] ?? 0 }))
  // Two each: some sounds of the same length take far longer than others, and who is done takes the next.
  const count = 2 * workers
  const few = things.length <= count * BATCH_SOUNDS ? shared(things, count) : null
  return few?.every(isSmallEnough) === true ? few : filledUp(things)
}

interface Thing {
  readonly index: number
  readonly sizeBytes: number
}

function isSmallEnough({ indexes, sizeBytes }: Batch): boolean {
  return indexes.length <= 1 || (indexes.length <= BATCH_SOUNDS && sizeBytes <= BATCH_BYTES)
}

function withThing({ indexes, sizeBytes }: Batch, thing: Thing): Batch {
  return { indexes: [...indexes, thing.index], sizeBytes: sizeBytes + thing.sizeBytes }
}

/** Where few batches are enough: about as many in each, and each where there is least so far, largest first. */
function shared(things: readonly Thing[], count: number): readonly Batch[] {
  const most = Math.ceil(things.length / count)
  const batches: Batch[] = Array.from({ length: count }, () => ({ indexes: [], sizeBytes: 0 }))
  for (const thing of things) {
    const open = batches.filter(({ indexes }) => indexes.length < most)
    const lightest = open.reduce((least, batch) => (batch.sizeBytes < least.sizeBytes ? batch : least))
    batches[batches.indexOf(lightest)] = withThing(lightest, thing)
  }
  return batches.filter(({ indexes }) => indexes.length > 0)
}

/**
 * Long sounds first, each filled up with short ones from the other end: as few starts of ffmpeg as
 * there can be, and no worker left alone with a long sound at the end.
 */
function filledUp(things: readonly Thing[]): readonly Batch[] {
  const batches: Batch[] = []
  for (let first = 0, end = things.length; first < end;) {
    let batch: Batch = { indexes: [], sizeBytes: 0 }
    const takes = (thing: Thing | undefined) => {
      if (thing === undefined || first >= end) return false
      const fuller = withThing(batch, thing)
      if (!isSmallEnough(fuller)) return false
      batch = fuller
      return true
    }
    while (takes(things[first])) first++
    while (takes(things[end - 1])) end--
    batches.push(batch)
  }
  return batches
}
