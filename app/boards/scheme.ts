import { LAYERS, PARTS, ROLES } from '../model/role.ts'
import type { Layer, Part, Role, SoundPlace } from '../model/role.ts'
import { clashingName, matchPattern, namePattern, nameShape, writePattern } from './name-pattern.ts'
import type { NamePattern } from './name-pattern.ts'
import { placeInWords, placeKey } from './place-words.ts'
import type { SchemeFile } from './scheme-file.ts'
import { TemplateFault, parseTemplate } from './scheme-template.ts'

/** A naming scheme ready for use: reads names into places and writes places into names. */
export interface Scheme {
  readonly id: string
  readonly title: string
  readonly notes: string
  /** Whether the first sound of several carries no number. */
  readonly firstUnnumbered: boolean
  readonly templates: readonly string[]
  /** What it was compiled from: two schemes that read and write alike have equal ones. */
  readonly file: SchemeFile
  readonly bySkeleton: ReadonlyMap<string, readonly NamePattern[]>
  readonly byPlace: ReadonlyMap<string, NamePattern>
}

export type SchemeReading =
  { readonly ok: true; readonly scheme: Scheme } | { readonly ok: false; readonly message: string }

/** Words of a scheme that names nothing else. */
const PART_WORDS: Partial<Record<Part, string>> = {
  before: 'before',
  begin: 'begin',
  end: 'end',
  after: 'after',
}

/**
 * Compiles a scheme. Refuses one whose templates cannot be read back: two templates that spell one
 * name for two places clash, and the message names both.
 */
export function compileScheme(file: SchemeFile): SchemeReading {
  const patterns: NamePattern[] = []
  const templates: string[] = []
  try {
    for (const entry of file.templates) {
      const template = typeof entry === 'string' ? { name: entry } : entry
      templates.push(template.name)
      patterns.push(...patternsOf(template, file))
    }
  } catch (fault) {
    if (fault instanceof TemplateFault) return { ok: false, message: `${fault.message}.` }
    throw fault
  }
  const bySkeleton = new Map<string, NamePattern[]>()
  for (const pattern of patterns) {
    const alike = bySkeleton.get(pattern.skeleton)
    if (alike) alike.push(pattern)
    else bySkeleton.set(pattern.skeleton, [pattern])
  }
  for (const alike of bySkeleton.values()) {
    const message = firstClash(alike)
    if (message !== null) return { ok: false, message }
  }
  const byPlace = new Map<string, NamePattern>()
  for (const pattern of patterns) {
    const key = `${placeKey(pattern.place)}|${pattern.digits > 0}`
    if (!byPlace.has(key)) byPlace.set(key, pattern)
  }
  const { id, title, notes = '' } = file.scheme
  const scheme = {
    id,
    title,
    notes,
    firstUnnumbered: file.firstUnnumbered ?? false,
    templates,
    file,
    bySkeleton,
    byPlace,
  }
  return { ok: true, scheme }
}

/** The place that a path inside a font spells, in any case and with any leading zeros; null where none. */
export function readName(scheme: Scheme, path: string): SoundPlace | null {
  const shape = nameShape(path)
  for (const pattern of scheme.bySkeleton.get(shape.skeleton) ?? []) {
    const number = matchPattern(pattern, shape)
    if (number !== undefined) return { ...pattern.place, number }
  }
  return null
}

/** The path inside a font that spells a place; null where the scheme has no words for it. */
export function writeName(scheme: Scheme, place: SoundPlace): string | null {
  const pattern = scheme.byPlace.get(`${placeKey(place)}|${place.number !== null}`)
  return pattern === undefined ? null : writePattern(pattern, place.number)
}

/** Every kind of place that a scheme can write: a witness place each, numbered ones with 1. */
export function placesOf(scheme: Scheme): readonly SoundPlace[] {
  return [...scheme.byPlace.values()].map((pattern) => ({
    ...pattern.place,
    number: pattern.digits > 0 ? 1 : null,
  }))
}

function firstClash(patterns: readonly NamePattern[]): string | null {
  for (const [index, a] of patterns.entries()) {
    for (const b of patterns.slice(index + 1)) {
      const clash = clashingName(a, b)
      if (clash === null) continue
      const readings = `as ${placeInWords(clash.a)} and as ${placeInWords(clash.b)}`
      return a.template === b.template
        ? `Template "${a.template}" is ambiguous: "${clash.name}" can be read ${readings}.`
        : `Templates "${a.template}" and "${b.template}" clash: "${clash.name}" can be read ${readings}.`
    }
  }
  return null
}

function patternsOf(
  template: { name: string; role?: Role | undefined; part?: Part | undefined; layer?: Layer | undefined },
  file: SchemeFile,
): NamePattern[] {
  const pieces = parseTemplate(template.name)
  const has = (kind: string): boolean => pieces.some((piece) => piece.kind === kind)
  if (!has('role') && template.role === undefined) {
    throw new TemplateFault(`"${template.name}" neither has {role} nor says which role it spells`)
  }
  const layers: (Layer | null)[] = has('layer') ? choose(template.layer, LAYERS) : [template.layer ?? null]
  const parts = has('part') ? choose(template.part, PARTS) : [template.part ?? 'body']
  const layered = layers[0] !== null
  // Only swings come in layers.
  const roles = choose(template.role, ROLES).filter((role) => role === 'swing' || !layered)
  if (roles.length === 0)
    throw new TemplateFault(`"${template.name}" has a layer, and only swings have layers`)
  const number = pieces.find((piece) => piece.kind === 'number')
  const patterns: NamePattern[] = []
  for (const role of roles) {
    for (const part of parts) {
      for (const layer of layers) {
        const filled = pieces.map((piece): readonly (string | null)[] => {
          if (piece.kind === 'text') return [piece.text]
          if (piece.kind === 'number') return [null]
          if (piece.kind === 'role') return roleWords(file, role)
          if (piece.kind === 'part') return partWords(file, part)
          return layer === null ? [] : layerWords(file, layer)
        })
        for (const spelling of combinations(filled)) {
          const pattern = namePattern(template.name, { role, part, layer }, spelling, number?.digits ?? 0)
          if (pattern === null) {
            throw new TemplateFault(
              `"${template.name}" puts a digit beside the number, which cannot be read back`,
            )
          }
          patterns.push(pattern)
        }
      }
    }
  }
  return patterns
}

function choose<T>(one: T | undefined, all: readonly T[]): T[] {
  return one === undefined ? [...all] : [one]
}

function roleWords(file: SchemeFile, role: Role): readonly string[] {
  const given = file.words?.roles?.[role]
  if (given === null) return []
  return given === undefined ? [role] : [given].flat()
}

function partWords(file: SchemeFile, part: Part): readonly string[] {
  const given = file.words?.parts?.[part] ?? PART_WORDS[part]
  return given === undefined ? [] : [given].flat()
}

function layerWords(file: SchemeFile, layer: Layer): readonly string[] {
  return [file.words?.layers?.[layer] ?? layer].flat()
}

/** Every way to take one spelling of each piece; the first spellings come first. */
function combinations(pieces: readonly (readonly (string | null)[])[]): (string | null)[][] {
  let all: (string | null)[][] = [[]]
  for (const spellings of pieces) {
    all = all.flatMap((start) => spellings.map((spelling) => [...start, spelling]))
  }
  return all
}
