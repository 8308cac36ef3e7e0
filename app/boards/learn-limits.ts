import { parseDocument } from 'yaml'
import type { Board, Knowledge } from '../model/board.ts'
import type { SoundInspection } from '../model/sound.ts'
import { listed } from './in-words.ts'
import { isPlainHeader } from './rules/plain-header.ts'
import { valueAt } from './read-board.ts'

/** A sound that was tried in the hilt. */
export interface TriedSound {
  readonly path: string
  readonly inspection: SoundInspection
}

/** One limit that moves by what was heard, with the reason in one sentence. */
export interface LimitMove {
  readonly limit: string
  readonly value: unknown
  readonly known: Knowledge
  readonly because: string
}

export interface Learned {
  readonly moves: readonly LimitMove[]
  /** Sounds of which nothing can be learned, and why. */
  readonly unclear: readonly { readonly path: string; readonly why: string }[]
}

type Fact = string | number

/** A limit on sounds: what of a sound it is about, and how it is kept. */
interface Trait {
  readonly limit: string
  readonly kind: 'list' | 'most' | 'header'
  of(inspection: SoundInspection): Fact | null
}

const TRAITS: readonly Trait[] = [
  { limit: 'audio.containers', kind: 'list', of: ({ facts }) => facts?.container ?? null },
  { limit: 'audio.codings', kind: 'list', of: ({ facts }) => facts?.coding ?? null },
  { limit: 'audio.sampleRatesHz', kind: 'list', of: ({ facts }) => facts?.sampleRateHz ?? null },
  { limit: 'audio.bitDepths', kind: 'list', of: ({ facts }) => facts?.bitDepth ?? null },
  { limit: 'audio.channels', kind: 'list', of: ({ facts }) => facts?.channels ?? null },
  {
    limit: 'audio.header',
    kind: 'header',
    of: ({ facts }) => (facts === null ? null : isPlainHeader(facts) ? 'plain' : 'any'),
  },
  { limit: 'audio.longestSeconds', kind: 'most', of: ({ facts }) => facts?.seconds ?? null },
  { limit: 'audio.largestBytes', kind: 'most', of: ({ sizeBytes }) => sizeBytes },
]

/**
 * What sounds that were tried in the hilt teach about a board.
 *
 * A sound that was heard widens every limit that it lies outside of, and fills every limit that
 * nobody knows: `seen playing`. A sound that stayed silent narrows a limit only where it differs from
 * all sounds that were heard in one thing alone: `seen failing`. Where it differs in several, or in
 * none, nothing is learned, and that is told.
 */
export function learnLimits(
  board: Board,
  heard: readonly TriedSound[],
  silent: readonly TriedSound[],
): Learned {
  const moves = new Map<string, LimitMove>()
  for (const trait of TRAITS) {
    const move = widened(board, trait, heard)
    if (move !== null) moves.set(trait.limit, move)
  }
  const unclear: { path: string; why: string }[] = []
  for (const sound of silent) {
    const odd = TRAITS.filter((trait) => isUnheard(trait, sound, heard))
    const [trait] = odd
    if (heard.length === 0)
      unclear.push({ path: sound.path, why: 'No other sound was heard that it could be compared with.' })
    else if (trait === undefined)
      unclear.push({ path: sound.path, why: 'It differs in nothing from the sounds that were heard.' })
    else if (odd.length > 1) {
      const limits = listed(
        odd.map((each) => each.limit),
        'and',
      )
      unclear.push({
        path: sound.path,
        why: `It differs from the sounds that were heard in several things: ${limits}.`,
      })
    } else moves.set(trait.limit, narrowed(trait, sound, heard))
  }
  return { moves: [...moves.values()], unclear }
}

/** A board's text with limits moved; what its author wrote beside them stays as it is. */
export function withMoves(text: string, moves: readonly LimitMove[]): string {
  const document = parseDocument(text, { logLevel: 'error' })
  for (const { limit, value, known } of moves) {
    document.setIn(limit.split('.'), document.createNode(value, { flow: true }))
    document.setIn(['known', limit], known)
  }
  return document.toString({ lineWidth: 100 })
}

function factsOf(trait: Trait, sounds: readonly TriedSound[]): Fact[] {
  return sounds.flatMap(({ inspection }) => trait.of(inspection) ?? [])
}

function widened(board: Board, trait: Trait, heard: readonly TriedSound[]): LimitMove | null {
  const facts = factsOf(trait, heard)
  if (facts.length === 0) return null
  const isUnknown = board.known[trait.limit] === 'unknown'
  const now = isUnknown ? undefined : valueAt(board, trait.limit)
  // A limit that is known to be none takes everything already.
  if (now === null) return null
  const value = joined(trait, now, facts)
  if (JSON.stringify(value) === JSON.stringify(now)) return null
  const because = `${trait.limit}: ${listed([...new Set(facts)], 'and')} was heard.`
  return { limit: trait.limit, value, known: 'seen playing', because }
}

function joined(trait: Trait, now: unknown, facts: readonly Fact[]): unknown {
  if (trait.kind === 'header') return facts.includes('any') || now === 'any' ? 'any' : 'plain'
  if (trait.kind === 'most') {
    const most = Math.max(...facts.map(Number))
    return Math.max(
      typeof now === 'number' ? now : 0,
      trait.limit.endsWith('Seconds') ? Math.ceil(most) : most,
    )
  }
  const before: readonly unknown[] = Array.isArray(now) ? now : []
  return [...before, ...new Set(facts.filter((fact) => !before.includes(fact)))]
}

/** Whether a sound differs from all that were heard in this trait, in the direction that a limit bounds. */
function isUnheard(trait: Trait, sound: TriedSound, heard: readonly TriedSound[]): boolean {
  const fact = trait.of(sound.inspection)
  const facts = factsOf(trait, heard)
  if (fact === null || facts.length === 0) return false
  if (trait.kind === 'most') return Number(fact) > Math.max(...facts.map(Number))
  if (trait.kind === 'header') return fact === 'any' && !facts.includes('any')
  return !facts.includes(fact)
}

function narrowed(trait: Trait, sound: TriedSound, heard: readonly TriedSound[]): LimitMove {
  const facts = factsOf(trait, heard)
  const value = joined(trait, undefined, facts)
  const fact = trait.of(sound.inspection) ?? ''
  const because = `${trait.limit}: ${fact} stayed silent, and nothing else told it apart from what was heard.`
  return { limit: trait.limit, value, known: 'seen failing', because }
}
