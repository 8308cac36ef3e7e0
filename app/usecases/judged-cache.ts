import type { Judged } from '../boards/judge.ts'
import type { JudgeContext } from '../boards/rules/font-look.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { Board } from '../model/board.ts'
import type { Edition } from '../model/library.ts'

/** So many judgements are kept; beyond, the one that was not asked for the longest goes. */
const MOST_KEPT = 5000

/**
 * What was judged, by edition and board. A judgement holds as long as everything it was made from is
 * the same: what the sounds are, how they are called and placed, the board, its scheme, and what the
 * records say.
 */
export class JudgedCache {
  readonly #kept = new Map<string, { readonly madeFrom: string; readonly judged: Judged }>()

  judged(edition: Edition, board: Board, scheme: Scheme, context: JudgeContext, judge: () => Judged): Judged {
    // An edition and its prepared copy, which differ in size, are kept side by side.
    const key = `${edition.id}|${edition.sizeBytes}|${board.id}|${context.inPlace}`
    const madeFrom = madeFromOf(edition, board, scheme, context)
    const known = this.#kept.get(key)
    this.#kept.delete(key)
    const judged = known?.madeFrom === madeFrom ? known.judged : judge()
    this.#kept.set(key, { madeFrom, judged })
    if (this.#kept.size > MOST_KEPT) {
      const [oldest] = this.#kept.keys()
      if (oldest !== undefined) this.#kept.delete(oldest)
    }
    return judged
  }
}

/** Everything that findings depend on, as one text; bytes are known by their hash, and so are all measures. */
function madeFromOf(edition: Edition, board: Board, scheme: Scheme, context: JudgeContext): string {
  const lines = [
    JSON.stringify([
      board.hash,
      board.title,
      scheme.file,
      edition.font.name,
      edition.font.creatorName,
      edition.litter,
      context.speakerLowLimitHz,
      context.licences,
      context.lenders ?? [],
      context.changes ?? [],
    ]),
  ]
  for (const sound of edition.sounds) {
    const { path, place, inspection, source } = sound
    const role =
      place === null
        ? (sound.roleSource ?? '')
        : `${place.role} ${place.part} ${place.layer ?? ''} ${place.number ?? ''}`
    const lender = source === undefined ? '' : `${source.fontId} ${source.creatorName ?? ''} `
    // What is heard through a speaker is measured later than all else.
    const heard = context.throughSpeakerLevelOf?.(sound) ?? ''
    lines.push(`${inspection.sha256} ${inspection.measures === null} ${heard} ${role} ${lender}${path}`)
  }
  for (const { path, kind, sizeBytes } of edition.companions) lines.push(`${kind} ${sizeBytes} ${path}`)
  return lines.join('\n')
}
