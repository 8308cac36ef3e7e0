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
  /** Behind a value, where people read it. */
  readonly unit?: string
  of(inspection: SoundInspection): Fact | null
}

const TRAITS: readonly Trait[] = [
  { limit: 'audio.containers', kind: 'list', of: ({ facts }) => facts?.container ?? null },
  { limit: 'audio.codings', kind: 'list', of: ({ facts }) => facts?.coding ?? null },
  { limit: 'audio.sampleRatesHz', unit: ' Hz', kind: 'list', of: ({ facts }) => facts?.sampleRateHz ?? null },
  { limit: 'audio.bitDepths', unit: ' bit', kind: 'list', of: ({ facts }) => facts?.bitDepth ?? null },
  { limit: 'audio.channels', unit: ' channels', kind: 'list', of: ({ facts }) => facts?.channels ?? null },
  {
    limit: 'audio.header',
    kind: 'header',
    of: ({ facts }) => (facts === null ? null : isPlainHeader(facts) ? 'plain' : 'any'),
  },
  { limit: 'audio.longestSeconds', unit: ' s', kind: 'most', of: ({ facts }) => facts?.seconds ?? null },
  { limit: 'audio.largestBytes', unit: ' bytes', kind: 'most', of: ({ sizeBytes }) => sizeBytes },
]

/**
 * What sounds that were tried in the hilt teach about a board.
 *
 * A sound that was heard widens every limit that it lies outside of, and fills every limit that nobody
 * knows, but for a most, of which one sound tells nothing: `seen playing`. A sound that stayed silent narrows a limit only where it differs in
 * one thing alone from what plays: from the sounds that were heard, and from what the board was seen to
 * play. Where it lies within all of that, only the sounds that were heard now count. Where it differs in several things, in none, or in one while a
 * limit is there that nobody knows, nothing is learned, and that is told.
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
  const plays = TRAITS.map((trait) => ({ trait, known: playsOf(board, trait, heard) }))
  const heardOnly = TRAITS.map((trait) => ({ trait, known: factsOf(trait, heard) }))
  const unclear: { path: string; why: string }[] = []
  for (const sound of silent) {
    const outside = oddTraits(plays, sound)
    const odd = outside.length > 0 ? outside : oddTraits(heardOnly, sound)
    const [trait] = odd
    const unknown = plays.filter(
      ({ trait: each, known }) => known?.length === 0 && each.of(sound.inspection) !== null,
    )
    const why = whyUnclear(
      odd,
      unknown.map(({ trait: each }) => each.limit),
    )
    if (why === null && trait !== undefined) {
      const now = moves.get(trait.limit)?.value ?? valueNow(board, trait)
      moves.set(trait.limit, narrowed(trait, sound, now, factsOf(trait, heard)))
    } else unclear.push({ path: sound.path, why: why ?? '' })
  }
  return { moves: [...moves.values()], unclear }
}

function whyUnclear(odd: readonly Trait[], unknown: readonly string[]): string | null {
  const limits = listed(
    odd.map((each) => each.limit),
    'and',
  )
  const open = `nobody knows ${listed(unknown, 'and')} of this board: mark sounds that were heard, too`
  if (odd.length > 1) return `It differs from what plays in several things: ${limits}.`
  if (odd.length === 0)
    return unknown.length > 0
      ? `It differs in nothing that is known, and ${open}.`
      : 'It differs in nothing from what plays.'
  return unknown.length > 0 ? `It differs in ${limits}, but ${open}.` : null
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
  const now = valueNow(board, trait)
  // A limit that is known to be none takes everything already; that nothing larger was tried makes no most.
  if (now === null || (now === undefined && trait.kind === 'most')) return null
  const value = joined(trait, now, facts)
  if (JSON.stringify(value) === JSON.stringify(now)) return null
  const because = `${trait.limit}: ${listed([...new Set(facts)], 'and')}${trait.unit ?? ''} was heard.`
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

/**
 * What a trait of a sound is compared with: what was heard and seen playing, and where nothing was heard
 * now also what is only stated. Null where everything plays, empty where nobody knows.
 */
function playsOf(board: Board, trait: Trait, heard: readonly TriedSound[]): readonly Fact[] | null {
  const facts = factsOf(trait, heard)
  const knowledge = board.known[trait.limit] ?? 'stated'
  if (knowledge === 'unknown' || (knowledge === 'stated' && facts.length > 0)) return facts
  const now = valueNow(board, trait)
  if (now === null) return null
  if (Array.isArray(now)) return [...facts, ...(now as readonly Fact[])]
  return typeof now === 'string' || typeof now === 'number' ? [...facts, now] : facts
}

/** A limit as the board has it; undefined where nobody knows it. */
function valueNow(board: Board, trait: Trait): unknown {
  return board.known[trait.limit] === 'unknown' ? undefined : valueAt(board, trait.limit)
}

/** In which traits a sound lies outside of what plays, in the direction that a limit bounds. */
function oddTraits(
  plays: readonly { readonly trait: Trait; readonly known: readonly Fact[] | null }[],
  sound: TriedSound,
): readonly Trait[] {
  return plays.flatMap(({ trait, known }) => {
    const fact = trait.of(sound.inspection)
    if (fact === null || known === null || known.length === 0) return []
    const isOutside =
      trait.kind === 'most'
        ? Number(fact) > Math.max(...known.map(Number))
        : trait.kind === 'header'
          ? fact === 'any' && !known.includes('any')
          : !known.includes(fact)
    return isOutside ? [trait] : []
  })
}

/** Without what stayed silent; other values that the board is known to play stay. */
function narrowed(trait: Trait, sound: TriedSound, now: unknown, heardFacts: readonly Fact[]): LimitMove {
  const fact = trait.of(sound.inspection) ?? ''
  const because = `${trait.limit}: ${fact}${trait.unit ?? ''} stayed silent, and nothing else told it apart from what plays.`
  const move = (value: unknown): LimitMove => ({ limit: trait.limit, value, known: 'seen failing', because })
  if (trait.kind === 'header') return move('plain')
  if (trait.kind === 'list') {
    const before: readonly unknown[] = Array.isArray(now) ? now : []
    const left = [...new Set([...before, ...heardFacts])].filter((each) => each !== fact)
    return move(left)
  }
  const most = typeof now === 'number' && now < Number(fact) ? now : joined(trait, undefined, heardFacts)
  return move(most)
}
