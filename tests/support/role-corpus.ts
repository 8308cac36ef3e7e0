import { LAYERS, PARTS, ROLES } from '../../app/model/role.ts'
import type { SoundPlace } from '../../app/model/role.ts'

/**
 * Names of sounds as people might write them, made at random from the trade's words, with the truth
 * beside each. Written before the scorer it judges, and not changed since: a change here would make
 * every earlier figure meaningless.
 */
export interface CorpusName {
  readonly path: string
  readonly truth: SoundPlace
  /** How it was made, for the reader of a failure. */
  readonly made: string
}

const FORMS: Readonly<Record<string, readonly string[]>> = {
  hum: ['hums', 'humming'],
  ignite: ['ignition', 'ignited', 'igniting'],
  retract: ['retraction', 'retracted', 'retracts'],
  swing: ['swings', 'swinging'],
  clash: ['clashes', 'clashed'],
  deflect: ['deflects', 'deflection', 'deflected'],
  lockup: ['lockups', 'lock-up', 'lock up'],
  drag: ['drags', 'dragging'],
  melt: ['melts', 'melting'],
  boot: ['boots', 'booting'],
  announce: ['announcement', 'announces'],
  music: ['musics'],
  'low-cell': ['low cell', 'lowcell', 'low_cell'],
  other: ['others'],
}
const PART_WORDS: Readonly<Record<string, readonly string[]>> = {
  before: ['before', 'pre'],
  begin: ['begin', 'start', 'beginning'],
  end: ['end', 'ending'],
  after: ['after', 'post'],
}
const LAYER_WORDS: Readonly<Record<string, readonly string[]>> = {
  low: ['low', 'lo'],
  high: ['high', 'hi'],
}
const STRANGERS = ['sound', 'final', 'ember', 'mix', 'new', 'north', 'bench', 'take']
const JOINTS = ['', '-', '_', ' ', '.'] as const

/** A generator of evenly spread numbers from 0 to 1 (mulberry32, public domain; from memory). */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

/** `count` names from a seed; the same seed gives the same names. */
export function roleCorpus(seed: number, count: number): readonly CorpusName[] {
  const random = seededRandom(seed)
  const pick = <T>(all: readonly T[]): T => all[Math.floor(random() * all.length)] as T
  const chance = (share: number): boolean => random() < share

  function placeOf(): SoundPlace {
    const role = pick(ROLES)
    const number = chance(0.75) ? Math.floor(random() * 24) : null
    if (role === 'swing' && chance(0.4)) return { role, part: 'body', layer: pick(LAYERS), number }
    const takesParts = ['lockup', 'drag', 'melt', 'ignite', 'retract'].includes(role)
    const part = takesParts && chance(0.5) ? pick(PARTS) : 'body'
    return { role, part, layer: null, number }
  }

  /** One of the ways to shorten or bend a word; never under three letters. */
  function bent(word: string): [string, string] {
    const letters = word.replace(/[^a-z]/g, '')
    const way = random()
    if (way < 0.4) return [word, 'in full']
    if (way < 0.65) {
      const least = 3
      const length = least + Math.floor(random() * Math.max(1, letters.length - least))
      return [letters.slice(0, length), 'cut']
    }
    if (way < 0.85) {
      const skeleton = letters.slice(0, 1) + letters.slice(1).replace(/[aeiou]/g, '')
      return skeleton.length < 3 ? [word, 'in full'] : [skeleton, 'without vowels']
    }
    return [pick(FORMS[word] ?? [word]), 'another form']
  }

  function cased(words: readonly string[], joint: string): string {
    const way = random()
    const title = (word: string): string => word.slice(0, 1).toUpperCase() + word.slice(1)
    if (way < 0.5) return words.join(joint)
    if (way < 0.7) return words.join(joint).toUpperCase()
    return words.map(title).join(joint)
  }

  function numbered(number: number): string {
    const width = pick([1, 2, 2, 3])
    return String(number).padStart(width, '0')
  }

  return Array.from({ length: count }, () => {
    const truth = placeOf()
    const [word, made] = bent(truth.role)
    const joint = pick(JOINTS)
    const words = [word]
    if (truth.part !== 'body') words.push(pick(PART_WORDS[truth.part] ?? []))
    if (truth.layer !== null) words.push(pick(LAYER_WORDS[truth.layer] ?? []))
    // A part or layer runs into its word only where the word is whole: nobody could read it otherwise.
    const inner = joint === '' && words.length > 1 && made !== 'in full' ? '-' : joint
    if (chance(0.12)) words.unshift(pick(STRANGERS))
    const isStrange = words.length > 1 && STRANGERS.includes(words[0] ?? '')
    const between = isStrange && inner === '' ? '_' : inner
    let name = cased(words, between)
    if (truth.number !== null) {
      const outer = pick(JOINTS)
      name += chance(0.08) ? ` (${truth.number})` : `${outer}${numbered(truth.number)}`
    }
    const folder = random()
    const path =
      folder < 0.08
        ? `${pick([truth.role, pick(FORMS[truth.role] ?? [truth.role])])}/${name}.wav`
        : folder < 0.14
          ? `${pick(['sounds', 'wav', 'export'])}/${name}.wav`
          : `${name}.wav`
    return { path, truth, made }
  })
}
