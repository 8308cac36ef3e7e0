import { stringify } from 'yaml'
import type { SoundPlace } from '../model/role.ts'
import { compileScheme, readName } from './scheme.ts'
import type { SchemeFile } from './scheme-file.ts'

export interface PlacedPath {
  readonly path: string
  readonly place: SoundPlace
}

export type MadeScheme =
  | { readonly ok: true; readonly text: string; readonly file: SchemeFile }
  | { readonly ok: false; readonly message: string }

/**
 * Makes a scheme of a confirmed set of roles, so that the next font named alike is read by itself.
 *
 * Each name becomes a template with its own number lifted out; names of one kind that differ by their
 * number share one template. A number that was told and does not stand in the name is no part of the
 * scheme: such a name reads without one. Refused where the set contradicts itself: two names that would read as
 * one, or a name that would not read back as it was confirmed.
 */
export function schemeFromPlaces(id: string, title: string, sounds: readonly PlacedPath[]): MadeScheme {
  const entries = new Map<string, Exclude<SchemeFile['templates'][number], string>>()
  const spelled = sounds.map(({ path, place }) => ({ path, place: asSpelled(path, place) }))
  for (const { path, place } of spelled) {
    const name = templateOf(path, place.number)
    if (name === null)
      return {
        ok: false,
        message: `No scheme can spell "${path}": its ending is not .wav, or it has braces.`,
      }
    const entry = {
      name,
      role: place.role,
      ...(place.part === 'body' ? {} : { part: place.part }),
      ...(place.layer === null ? {} : { layer: place.layer }),
    }
    entries.set(JSON.stringify(entry), entry)
  }
  if (entries.size === 0) return { ok: false, message: 'No sound of this font has a role yet.' }
  const file: SchemeFile = { scheme: { id, title }, templates: [...entries.values()] }
  const compiled = compileScheme(file)
  if (!compiled.ok) return compiled
  const wrong = spelled.find(({ path, place }) => !samePlace(readName(compiled.scheme, path), place))
  if (wrong !== undefined) {
    return { ok: false, message: `"${wrong.path}" would not be read as it was confirmed.` }
  }
  return { ok: true, file, text: stringify(file, { lineWidth: 100 }) }
}

function asSpelled(path: string, place: SoundPlace): SoundPlace {
  return place.number === null || numberRun(path, place.number) !== null ? place : { ...place, number: null }
}

/** The last run of digits that has this value. */
function numberRun(path: string, number: number): RegExpExecArray | null {
  const runs = [...path.matchAll(/[0-9]+/g)]
  return runs.findLast((run) => run[0].length <= 6 && Number(run[0]) === number) ?? null
}

/** The path with its number as a slot: the last run of digits that has this value, as wide as it is written. */
function templateOf(path: string, number: number | null): string | null {
  if (/[{}\\]/.test(path) || !path.toLowerCase().endsWith('.wav')) return null
  if (number === null) return path
  const run = numberRun(path, number)
  if (run === null) return path
  const slot = run[0].length > 1 && run[0].startsWith('0') ? `{n:0${run[0].length}}` : '{n}'
  return path.slice(0, run.index) + slot + path.slice(run.index + run[0].length)
}

function samePlace(a: SoundPlace | null, b: SoundPlace): boolean {
  return a !== null && a.role === b.role && a.part === b.part && a.layer === b.layer && a.number === b.number
}
