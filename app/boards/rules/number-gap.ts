import { placeInWords, placeKey } from '../place-words.ts'
import type { FontLook, PlacedSound } from './font-look.ts'
import type { FontRule, Miss } from './rule.ts'

/** Numbers that do not run from the board's start without a gap. One finding a set of sounds, at the first wrong one. */
export const numberGap: FontRule = {
  id: 'number-gap',
  judge: (look) => {
    const numbering = look.board.fonts.numbering
    if (numbering?.withoutGaps !== true) return []
    const sets = new Map<string, PlacedSound[]>()
    for (const each of look.placed) {
      const key = placeKey(each.place)
      const set = sets.get(key)
      if (set) set.push(each)
      else sets.set(key, [each])
    }
    return [...sets.values()].flatMap((set) => gapOf(set, numbering.start, look))
  },
}

function gapOf(set: readonly PlacedSound[], start: number, look: FontLook): readonly Miss[] {
  const sorted = [...set].sort((a, b) => (a.place.number ?? -1) - (b.place.number ?? -1))
  // One sound needs no number, and the first of several may do without.
  const wrong = sorted.findIndex(
    ({ place }, index) => place.number !== start + index && !(index === 0 && place.number === null),
  )
  const each = sorted[wrong]
  if (each === undefined) return []
  const wanted = start + wrong
  const found = each.place.number
  const kind = placeInWords({ ...each.place, number: null })
  return [
    {
      path: each.sound.path,
      message:
        found === null
          ? `Two sounds for ${kind} carry no number; the board counts from ${start} without gaps.`
          : `It is number ${found} of ${kind}, and ${wanted} comes next; the board counts from ${start} without gaps.`,
      why: 'The board stops counting at the gap and never plays what follows.',
      mend: look.context.inPlace
        ? `Rename ${found ?? 'it'} to ${wanted}, and what follows.`
        : `Nothing to do: on the card ${found ?? 'it'} becomes ${wanted}.`,
      fixable: !look.context.inPlace,
      measured: found,
      limit: wanted,
    },
  ]
}
