import type { LoopFact } from '../../model/audio-facts.ts'
import type { DefectList } from './defect-list.ts'
import type { WholeNumbers } from './whole-numbers.ts'

const HEAD_BYTES = 36
const LOOP_BYTES = 24

/**
 * Loop points of a `smpl` chunk, in frames as stored (the end is inclusive).
 * Source: Microsoft/IBM 1991 and its 1994 supplement, "Sampler chunk".
 * @param body at most 4096 bytes of the chunk
 * @param bodyBytes all that is really there
 */
export function readSamplerLoops(
  body: Uint8Array,
  at: number,
  bodyBytes: number,
  numbers: WholeNumbers,
  defects: DefectList,
): LoopFact[] {
  if (bodyBytes < HEAD_BYTES) {
    defects.add('smpl-short', at, `The "smpl" chunk has ${bodyBytes} bytes and needs at least ${HEAD_BYTES}.`)
    return []
  }
  const announced = numbers.u32(body, 28)
  const present = Math.floor((bodyBytes - HEAD_BYTES) / LOOP_BYTES)
  if (announced > present) {
    defects.add(
      'smpl-loops-missing',
      at + 8 + 28,
      `The "smpl" chunk announces ${announced} loops and holds ${present}.`,
    )
  }
  const loops: LoopFact[] = []
  const readable = Math.min(announced, Math.floor((body.length - HEAD_BYTES) / LOOP_BYTES))
  for (let index = 0; index < readable; index++) {
    const loopAt = HEAD_BYTES + index * LOOP_BYTES
    loops.push({ start: numbers.u32(body, loopAt + 8), end: numbers.u32(body, loopAt + 12) })
  }
  return loops
}

/** Tells of loops that reach beyond the sound, or run backwards. */
export function checkLoops(
  loops: readonly LoopFact[],
  chunkAt: number,
  frames: number,
  defects: DefectList,
): void {
  loops.forEach(({ start, end }, index) => {
    const startAt = chunkAt + 8 + HEAD_BYTES + index * LOOP_BYTES + 8
    if (end === frames && start <= end) {
      defects.add(
        'loop-end-one-late',
        startAt + 4,
        `Loop end ${end} is one past the last frame, and loop ends count themselves in.`,
      )
    } else if (start > end || end > frames) {
      defects.add(
        'loop-out-of-range',
        startAt,
        `Loop ${start} to ${end} does not lie in the ${frames} frames of the sound.`,
      )
    }
  })
}
