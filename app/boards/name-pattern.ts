import type { SoundPlace } from '../model/role.ts'

/** A template with its words filled in: fixed text before and after at most one number. */
export interface NamePattern {
  readonly template: string
  readonly place: Omit<SoundPlace, 'number'>
  /** As written, with `null` where the number stands. */
  readonly pieces: readonly (string | null)[]
  /** Fewest digits of the number; 0 where the pattern has none. */
  readonly digits: number
  /** The name as it is compared, every run of digits replaced by one NUL. */
  readonly skeleton: string
  /** The runs of digits in order; `null` is the pattern's own number. */
  readonly runs: readonly (string | null)[]
}

/** What a name is reduced to before it is looked up: case and normal form do not tell names apart. */
export interface NameShape {
  readonly skeleton: string
  readonly runs: readonly string[]
}

const HOLE = '\u0000'
/** More digits than this are no number of a sound, and would lose their last digits. */
const MOST_DIGITS = 9

/** Reduces a name: small letters, composed (NFC), runs of digits lifted out. */
export function nameShape(name: string): NameShape {
  const plain = foldName(name)
  return { skeleton: plain.replace(/[0-9]+/g, HOLE), runs: plain.match(/[0-9]+/g) ?? [] }
}

/** Builds a pattern. @returns null where a digit touches the number, so that it could not be read back */
export function namePattern(
  template: string,
  place: Omit<SoundPlace, 'number'>,
  pieces: readonly (string | null)[],
  digits: number,
): NamePattern | null {
  // A letter keeps the place of the number while everything around it is folded.
  const marked = foldName(pieces.map((piece) => piece ?? '\u0001').join(''))
  if (/[0-9]\u0001|\u0001[0-9]/.test(marked)) return null
  const runs = (marked.match(/[0-9]+|\u0001/g) ?? []).map((run) => (run === '\u0001' ? null : run))
  return { template, place, pieces, digits, skeleton: marked.replace(/[0-9]+|\u0001/g, HOLE), runs }
}

/** The number that a name carries in a pattern, `null` where the pattern has none, `undefined` where it is another name. */
export function matchPattern(pattern: NamePattern, shape: NameShape): number | null | undefined {
  if (pattern.skeleton !== shape.skeleton || pattern.runs.length !== shape.runs.length) return undefined
  let number: number | null = null
  for (let index = 0; index < pattern.runs.length; index++) {
    const wanted = pattern.runs[index]
    const found = shape.runs[index] ?? ''
    if (wanted === null) {
      if (found.length > MOST_DIGITS) return undefined
      number = Number(found)
    } else if (wanted !== found) return undefined
  }
  return number
}

/** The name that a pattern gives a number. */
export function writePattern(pattern: NamePattern, number: number | null): string {
  const written = number === null ? '' : String(number).padStart(pattern.digits, '0')
  return pattern.pieces.map((piece) => piece ?? written).join('')
}

/**
 * A name that both patterns spell, with what each would read; null where there is none, or where
 * they read the same.
 */
export function clashingName(
  a: NamePattern,
  b: NamePattern,
): { readonly name: string; readonly a: SoundPlace; readonly b: SoundPlace } | null {
  if (a.skeleton !== b.skeleton || a.runs.length !== b.runs.length) return null
  let shared: number | null = null
  let numberA: number | null = null
  let numberB: number | null = null
  for (let index = 0; index < a.runs.length; index++) {
    const runA = a.runs[index]
    const runB = b.runs[index]
    if (runA === null && runB === null) shared = 1
    else if (runA === null) numberA = Number(runB)
    else if (runB === null) numberB = Number(runA)
    else if (runA !== runB) return null
  }
  const placeA = { ...a.place, number: numberA ?? shared }
  const placeB = { ...b.place, number: numberB ?? shared }
  const same =
    placeA.role === placeB.role &&
    placeA.part === placeB.part &&
    placeA.layer === placeB.layer &&
    placeA.number === placeB.number
  return same ? null : { name: writePattern(a, placeA.number), a: placeA, b: placeB }
}

function foldName(name: string): string {
  return name.normalize('NFC').toLowerCase().normalize('NFC')
}
