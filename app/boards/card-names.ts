import type { Board } from '../model/board.ts'
import { comparePlaces } from '../model/role.ts'
import type { SoundPlace } from '../model/role.ts'
import { characterTest, fitCase } from './folder-name.ts'
import { placeKey } from './place-words.ts'
import { writeName } from './scheme.ts'
import type { Scheme } from './scheme.ts'

/** Why a file of a font gets no name on the card. */
export type NoName = 'no-role' | 'unspellable' | 'conflict' | 'stays-off'

/** One file of a font, and its name on the card. */
export interface CardName {
  /** Inside the edition. */
  readonly from: string
  readonly kind: 'sound' | 'companion'
  /** Role as it was read; null for companions and for sounds whose role is not known. */
  readonly place: SoundPlace | null
  /** Inside the font's folder, or inside the card's own folder where `area` is `card`; null where it gets none. */
  readonly to: string | null
  readonly area: 'font' | 'card'
  /** Set where `to` is null. */
  readonly noName: NoName | null
}

export interface NamedSound {
  readonly path: string
  readonly place: SoundPlace | null
  /** Set for a sound that another font lends: of several in one place it comes after the font's own. */
  readonly source?: object
}

/**
 * Writes a font's names anew for a board: sounds by its scheme and numbering, companions in its
 * characters. In play order (role, part, layer, number), companions last by name; what gets no name
 * is told with its reason. Pure; nothing is renamed in place.
 *
 * Numbers: where the board wants no gaps, each set of sounds that share role, part and layer counts
 * anew from the board's start, in the order of the old numbers. The two layers of swings count
 * together, so that a pair stays a pair. A set of one that carries no number keeps none where the
 * scheme can spell that.
 */
export function cardNames(
  sounds: readonly NamedSound[],
  companionPaths: readonly string[],
  board: Board,
  scheme: Scheme,
): readonly CardName[] {
  const named = sounds
    .filter((sound): sound is NamedSound & { place: SoundPlace } => sound.place !== null)
    .sort((a, b) => comparePlaces(a.place, b.place) || lentLast(a, b) || byText(a.path, b.path))
  const numbers = newNumbers(named, board, scheme)
  const wide = board.fonts.cardWide
  const taken = new Set<string>()
  const take = (area: string, to: string): boolean => {
    const key = `${area}|${to.normalize('NFC').toUpperCase()}`
    if (taken.has(key)) return false
    taken.add(key)
    return true
  }
  const written = named.map(({ path, place }, index): CardName => {
    const area = wide?.roles.includes(place.role) === true ? 'card' : 'font'
    const entry = { from: path, kind: 'sound', place, area } as const
    const name = writeName(scheme, { ...place, number: numbers[index] ?? null })
    if (name === null) return { ...entry, to: null, noName: 'unspellable' }
    const to = fitCase(board, name)
    return take(area, to) ? { ...entry, to, noName: null } : { ...entry, to: null, noName: 'conflict' }
  })
  const strangers = sounds.filter((sound) => sound.place === null)
  return [
    ...written,
    ...strangers.map(({ path }): CardName => ({ ...nothing(path, 'sound'), noName: 'no-role' })),
    ...[...companionPaths].sort(byText).map((path): CardName => {
      if (board.fonts.companions === 'none') return { ...nothing(path, 'companion'), noName: 'stays-off' }
      const to = companionName(board, path, (name) => take('font', name))
      return { ...nothing(path, 'companion'), to, noName: to === null ? 'conflict' : null }
    }),
  ]
}

function nothing(from: string, kind: CardName['kind']): Omit<CardName, 'noName'> {
  return { from, kind, place: null, to: null, area: 'font' }
}

/** The path of a file on the card, below its root. */
export function cardPath(board: Board, fontFolder: string, name: CardName): string | null {
  if (name.to === null) return null
  const folder = name.area === 'card' ? (board.fonts.cardWide?.folder ?? '') : fontFolder
  return folder === '' ? name.to : `${folder}/${name.to}`
}

function newNumbers(
  named: readonly { readonly place: SoundPlace }[],
  board: Board,
  scheme: Scheme,
): readonly (number | null)[] {
  const numbers: (number | null)[] = named.map(({ place }) => place.number)
  const start = board.fonts.numbering?.start ?? 1
  for (const indexes of sets(named.map(({ place }) => place))) {
    const places = indexes.map((index) => named[index]?.place).filter((place) => place !== undefined)
    const old = places.map((place) => place.number)
    const [first] = places
    if (first === undefined || !mustCount(old, places, board)) continue
    const ranks = first.layer === null ? old.map((_number, rank) => rank) : pairRanks(places)
    const alone = Math.max(...ranks) === 0
    ranks.forEach((rank, position) => {
      const place = places[position]
      const index = indexes[position]
      if (place === undefined || index === undefined) return
      const bare = writeName(scheme, { ...place, number: null }) !== null
      const unnumbered = bare && rank === 0 && (scheme.firstUnnumbered || (alone && place.number === null))
      numbers[index] = unnumbered ? null : start + rank
    })
  }
  return numbers
}

/** Indexes of sounds that are numbered together: the two layers of swings count as one set. */
function sets(places: readonly SoundPlace[]): readonly (readonly number[])[] {
  const found = new Map<string, number[]>()
  places.forEach((place, index) => {
    const key = placeKey({ ...place, layer: place.layer === null ? null : 'low' })
    const set = found.get(key)
    if (set) set.push(index)
    else found.set(key, [index])
  })
  return [...found.values()]
}

function mustCount(old: readonly (number | null)[], places: readonly SoundPlace[], board: Board): boolean {
  if (board.fonts.numbering?.withoutGaps === true) return true
  const least = board.fonts.numbering?.start ?? 0
  const keys = places.map((place) => `${place.layer ?? ''}|${place.number ?? ''}`)
  return new Set(keys).size < keys.length || old.some((number) => number !== null && number < least)
}

/** Ranks of layered swings: equal numbers of the two layers keep one rank; a number given twice in one layer moves on. */
function pairRanks(places: readonly SoundPlace[]): number[] {
  const perLayer = new Map<string, number>()
  const keys = places.map((place) => {
    const key = `${place.layer ?? ''}|${place.number ?? -1}`
    const again = perLayer.get(key) ?? 0
    perLayer.set(key, again + 1)
    return [place.number ?? -1, again] as const
  })
  const distinct = [...new Map(keys.map((key) => [key.join('|'), key])).values()].sort(
    (a, b) => a[0] - b[0] || a[1] - b[1],
  )
  const rankOf = new Map(distinct.map((key, rank) => [key.join('|'), rank]))
  return keys.map((key) => rankOf.get(key.join('|')) ?? 0)
}

/** A companion's own name in characters and length of the board; numbered on where it is taken. */
function companionName(board: Board, path: string, take: (name: string) => boolean): string | null {
  const allowed = characterTest(board)
  const room = board.names.longestNameUnits ?? 255
  const steps = path.split('/')
  const file = steps.pop() ?? ''
  const dot = file.lastIndexOf('.')
  const [stem, ending] = dot > 0 ? [file.slice(0, dot), file.slice(dot)] : [file, '']
  const fit = (text: string): string => {
    const hyphen = ['-', '_'].find(allowed) ?? ''
    return [...fitCase(board, text.normalize('NFC'))]
      .map((character) => (allowed(character) ? character : hyphen))
      .join('')
  }
  const folders = steps.map((step) => tidy(fit(step).slice(0, room)))
  for (let again = 1; again <= 999; again++) {
    const tail = (again === 1 ? '' : String(again)) + fit(ending)
    const name = [...folders, `${tidy(fit(stem).slice(0, Math.max(1, room - tail.length)))}${tail}`].join('/')
    if (take(name)) return name
  }
  return null
}

function tidy(name: string): string {
  const tidied = name.replace(/^ +|[. ]+$/g, '')
  return tidied === '' ? 'file' : tidied
}

function lentLast(a: NamedSound, b: NamedSound): number {
  return Number(a.source !== undefined) - Number(b.source !== undefined)
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
