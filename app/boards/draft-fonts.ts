import type { ObservedCard } from '../model/observed-card.ts'
import type { Role, SoundPlace } from '../model/role.ts'
import { placeKey } from './place-words.ts'
import { readRoles } from './read-roles.ts'
import { readName } from './scheme.ts'
import type { Scheme } from './scheme.ts'

/** What a card shows of how its board keeps fonts. */
export interface DraftedFonts {
  readonly folders: readonly string[]
  readonly schemeId: string | null
  /** Keys of the board file's section `fonts`, as far as they show. */
  readonly limits: Record<string, unknown>
}

/** Roles that may belong to a whole card rather than to a font. */
const CARD_WIDE: ReadonlySet<Role> = new Set(['boot', 'low-cell', 'announce', 'music'])

interface Folder {
  readonly name: string
  readonly paths: readonly string[]
  readonly frames: ReadonlyMap<string, number | null>
}

/** Font folders are the folders of the root with sounds that a naming scheme reads, or with any sounds where none does. */
export function draftFonts(card: ObservedCard, schemes: readonly Scheme[]): DraftedFonts {
  const folders = topFolders(card)
  const scheme = bestScheme(folders, schemes)
  const placesOf = (folder: Folder): SoundPlace[] =>
    scheme === null ? [] : folder.paths.flatMap((path) => readName(scheme, path) ?? [])
  const isWide = (folder: Folder): boolean => {
    const places = placesOf(folder)
    return (
      places.length > 0 &&
      places.length === folder.paths.length &&
      places.every(({ role }) => CARD_WIDE.has(role))
    )
  }
  const fonts = folders.filter((folder) => folder.name !== '' && !isWide(folder))
  const wide = folders.find((folder) => fonts.length > 0 && isWide(folder))
  const names = fonts.map((font) => font.name)
  const places = fonts.map(placesOf)
  const hasCompanions = card.files.some(
    (file) => file.kind === 'companion' && names.some((name) => file.path.startsWith(`${name}/`)),
  )
  const limits: Record<string, unknown> = {
    ...(fonts.length === 0 ? {} : { mostFonts: fonts.length, ...folderTemplateOf(names) }),
    ...mostSounds(places),
    ...numberingOf(places),
    ...pairsOf(fonts, scheme),
    ...(hasCompanions ? { companions: 'font-folder' } : {}),
    ...(wide === undefined
      ? {}
      : { cardWide: { roles: [...new Set(placesOf(wide).map(({ role }) => role))], folder: wide.name } }),
  }
  return { folders: names, schemeId: scheme?.id ?? null, limits }
}

/** Folders of the root with the sounds below them, in directory order; sounds of the root itself under an empty name. */
function topFolders(card: ObservedCard): readonly Folder[] {
  const folders = new Map<string, { paths: string[]; frames: Map<string, number | null> }>()
  for (const { path, kind, inspection } of card.files) {
    if (kind !== 'sound') continue
    const slash = path.indexOf('/')
    const name = slash < 0 ? '' : path.slice(0, slash)
    const inside = path.slice(slash + 1)
    const folder = folders.get(name) ?? { paths: [] as string[], frames: new Map<string, number | null>() }
    folder.paths.push(inside)
    folder.frames.set(inside, inspection?.facts?.frames ?? null)
    folders.set(name, folder)
  }
  return [...folders].map(([name, folder]) => ({ name, ...folder }))
}

/** The scheme that reads the most sounds of all folders together. */
function bestScheme(folders: readonly Folder[], schemes: readonly Scheme[]): Scheme | null {
  const { schemeId } = readRoles(
    folders.flatMap((folder) => folder.paths),
    schemes,
  )
  return schemes.find((scheme) => scheme.id === schemeId) ?? null
}

/** `01-ember`, `02-zinc`: a number that counts the folders, a joint, and the name. */
function folderTemplateOf(names: readonly string[]): Record<string, unknown> {
  const parts = names.map((name) => /^([0-9]{1,4})([-_ .]*)(.*)$/.exec(name))
  const numbers = parts.map((part) => Number(part?.[1] ?? Number.NaN))
  const [first] = parts
  const start = Math.min(...numbers)
  const counts = [...numbers].sort((a, b) => a - b).every((number, index) => number === start + index)
  if (!first || !counts) return { folderTemplate: '{name}' }
  const width = first[1]?.length ?? 1
  const joint = first[2] ?? ''
  const isAlike = parts.every((part) => part?.[1]?.length === width && part[2] === joint)
  if (!isAlike && width > 1) return { folderTemplate: '{name}' }
  const name = parts.some((part) => (part?.[3] ?? '') !== '') ? `${joint}{name}` : ''
  return { folderTemplate: `{slot${width > 1 ? `:0${width}` : ''}}${name}`, firstSlot: start }
}

function mostSounds(fonts: readonly (readonly SoundPlace[])[]): Record<string, unknown> {
  const most: Partial<Record<Role, number>> = {}
  for (const places of fonts) {
    const sets = new Map<string, number>()
    for (const { role, part, layer } of places) {
      // A pair of layers counts once, as the rule counts it.
      if (layer === 'high') continue
      const key = `${role}|${part}`
      sets.set(key, (sets.get(key) ?? 0) + 1)
      most[role] = Math.max(most[role] ?? 0, sets.get(key) ?? 0)
    }
  }
  return Object.keys(most).length === 0 ? {} : { mostSoundsByRole: most }
}

/** Where all sets of two and more run from one start without a gap. */
function numberingOf(fonts: readonly (readonly SoundPlace[])[]): Record<string, unknown> {
  const sets = fonts.flatMap((places) => {
    const byKey = new Map<string, number[]>()
    for (const place of places) {
      if (place.number === null) continue
      const key = placeKey(place)
      byKey.set(key, [...(byKey.get(key) ?? []), place.number])
    }
    return [...byKey.values()].map((numbers) => numbers.sort((a, b) => a - b))
  })
  const starts = new Set(sets.map((numbers) => numbers[0]))
  const [start] = starts
  if (start === undefined || starts.size > 1) return {}
  const withoutGaps = sets.every((numbers) => numbers.every((number, index) => number === start + index))
  return { numbering: { start, withoutGaps } }
}

function pairsOf(fonts: readonly Folder[], scheme: Scheme | null): Record<string, unknown> {
  if (scheme === null) return {}
  let pairs = 0
  for (const font of fonts) {
    const lengths = new Map<string, (number | null)[]>()
    for (const path of font.paths) {
      const place = readName(scheme, path)
      if (place === null || place.layer === null) continue
      const key = String(place.number)
      lengths.set(key, [...(lengths.get(key) ?? []), font.frames.get(path) ?? null])
    }
    for (const [low, high] of lengths.values()) {
      if (low === undefined || high === undefined) continue
      if (low !== high) return { pairsEqualLength: false }
      pairs++
    }
  }
  return pairs === 0 ? {} : { pairsEqualLength: true }
}
