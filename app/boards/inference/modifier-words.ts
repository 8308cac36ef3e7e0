import type { Layer, Part } from '../../model/role.ts'

/** What a word beside a role says about it. */
export type Modifier =
  { readonly kind: 'part'; readonly part: Part } | { readonly kind: 'layer'; readonly layer: Layer }

/** Plain English words for parts and layers, in full, shortened and without vowels. */
const WORDS: readonly (readonly [Modifier, readonly string[]])[] = [
  [{ kind: 'part', part: 'before' }, ['before', 'bef', 'bfr', 'befor', 'pre', 'prior']],
  [
    { kind: 'part', part: 'begin' },
    ['begin', 'begins', 'beginning', 'beg', 'bgn', 'start', 'starts', 'starting', 'strt', 'sta'],
  ],
  [
    { kind: 'part', part: 'body' },
    ['body', 'loop', 'looped', 'looping', 'main', 'middle', 'mid', 'hold', 'sustain'],
  ],
  [{ kind: 'part', part: 'end' }, ['end', 'ends', 'ending', 'ended', 'stop', 'stops', 'finish']],
  [{ kind: 'part', part: 'after' }, ['after', 'aft', 'aftr', 'post', 'afterwards']],
  [{ kind: 'layer', layer: 'low' }, ['low', 'lo', 'lower', 'lows']],
  [{ kind: 'layer', layer: 'high' }, ['high', 'hi', 'higher', 'highs', 'hgh']],
]

const MODIFIERS: ReadonlyMap<string, Modifier> = new Map(
  WORDS.flatMap(([modifier, words]) => words.map((word): [string, Modifier] => [word, modifier])),
)

export function modifierOf(text: string): Modifier | null {
  return MODIFIERS.get(text) ?? null
}

/** A single letter beside a swing can only be a layer. */
export function layerLetter(text: string): Layer | null {
  if (text === 'l') return 'low'
  return text === 'h' ? 'high' : null
}
