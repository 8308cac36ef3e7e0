import { inferRoles } from '../boards/inference/infer-roles.ts'
import { schemeFromPlaces } from '../boards/scheme-from-places.ts'
import { readScheme } from '../boards/read-scheme.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import type { Edition } from '../model/library.ts'
import type { SoundPlace } from '../model/role.ts'
import type { PlaceChange } from '../ports/library-records.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import type { WorkshopTexts } from '../ports/workshop-texts.ts'
import type { RoleReading } from './scan/role-reading.ts'
import { schemeSummaryOf } from './scheme-summary.ts'

export interface RolePorts {
  readonly database: WorkshopDatabase
  readonly texts: WorkshopTexts
  /** By the schemes as they are now. */
  readRoles(): Promise<Pick<RoleReading, 'readRoles'>>
}

type Roles = ResponseOf<'roles:show'>

/** What each sound of a font is for, with a guess where nobody knows. @throws AppError `font/unknown` */
export async function showRoles({ editionId }: RequestOf<'roles:show'>, ports: RolePorts): Promise<Roles> {
  return rolesOf(await ports.database.library.getEdition(editionId))
}

/**
 * Tells roles by hand; a later scan leaves them as told.
 * @throws AppError `font/unknown`, `sound/unknown`, `roles/layer` for a layer of anything but a swing
 */
export async function setRoles(
  { editionId, changes }: RequestOf<'roles:set'>,
  ports: RolePorts,
): Promise<Roles> {
  const odd = changes.find(({ place }) => place !== null && place.layer !== null && place.role !== 'swing')
  if (odd !== undefined) {
    throw new AppError({
      code: 'roles/layer',
      what: 'Only swings have layers.',
      where: odd.path,
      mend: 'Leave the layer out.',
    })
  }
  return change(editionId, ports, (edition) => {
    refuseUnknownPaths(
      edition,
      changes.map(({ path }) => path),
    )
    return changes.map(({ path, place }) => ({ path, place, roleSource: 'user' as const }))
  })
}

/** Takes back what was told: the names are read by the schemes again. @throws AppError as `setRoles` */
export async function forgetRoles(
  { editionId, paths }: RequestOf<'roles:forget'>,
  ports: RolePorts,
): Promise<Roles> {
  const reading = await ports.readRoles()
  return change(editionId, ports, (edition) => {
    refuseUnknownPaths(edition, paths ?? [])
    const wanted = paths === undefined ? null : new Set(paths)
    const { places } = reading.readRoles(edition.sounds.map((sound) => sound.path))
    return edition.sounds.flatMap(({ path, roleSource }, index) => {
      if (roleSource !== 'user' || wanted?.has(path) === false) return []
      const place: SoundPlace | null = places[index] ?? null
      return [{ path, place, roleSource: place === null ? null : ('scheme' as const) }]
    })
  })
}

/**
 * Makes a scheme of the workshop from a font's roles, so that fonts named alike are read by themselves.
 * @throws AppError `roles/no-scheme` with the reason; those of `WorkshopTexts.keepScheme`
 */
export async function keepScheme(
  { editionId, schemeId, title }: RequestOf<'roles:keep-scheme'>,
  ports: RolePorts,
): Promise<ResponseOf<'roles:keep-scheme'>> {
  const edition = await ports.database.library.getEdition(editionId)
  const placed = edition.sounds.flatMap(({ path, place }) => (place === null ? [] : [{ path, place }]))
  const made = schemeFromPlaces(schemeId, title, placed)
  if (!made.ok) {
    throw new AppError({
      code: 'roles/no-scheme',
      what: `The roles of this font make no scheme: ${made.message}`,
      where: edition.font.name,
      mend: 'Correct its roles, or write the scheme by hand.',
    })
  }
  const scheme = readScheme(made.text, `${schemeId}.yaml`)
  const path = await ports.texts.keepScheme(schemeId, made.text)
  return { scheme: schemeSummaryOf(scheme, 'workshop'), text: made.text, path }
}

async function change(
  editionId: string,
  { database }: RolePorts,
  changesFor: (edition: Edition) => readonly PlaceChange[],
): Promise<Roles> {
  return database.inTransaction(async ({ library }) => {
    const changes = changesFor(await library.getEdition(editionId))
    if (changes.length > 0) await library.setPlaces(editionId, changes)
    return rolesOf(await library.getEdition(editionId))
  })
}

function refuseUnknownPaths(edition: Edition, paths: readonly string[]): void {
  const known = new Set(edition.sounds.map((sound) => sound.path))
  const unknown = paths.find((path) => !known.has(path))
  if (unknown === undefined) return
  throw new AppError({
    code: 'sound/unknown',
    what: `The font ${edition.font.name} has no sound of this path.`,
    where: unknown,
    mend: '`roles FONT` lists its sounds.',
  })
}

function rolesOf(edition: Edition): Roles {
  const unknown = edition.sounds.filter((sound) => sound.place === null && sound.roleSource === null)
  const guesses = new Map(inferRoles(unknown).map((guess) => [guess.path, guess]))
  const sounds = edition.sounds.map(({ path, place, roleSource }) => {
    const guess = guesses.get(path)
    if (guess === undefined) return { path, place, roleSource, guess: null }
    const { confidence, isConfident, reasons } = guess
    return {
      path,
      place,
      roleSource,
      guess: { place: guess.place, confidence, isConfident, reasons: [...reasons] },
    }
  })
  const confidentCount = sounds.filter(({ guess }) => guess?.isConfident === true).length
  return {
    editionId: edition.id,
    font: edition.font.name,
    version: edition.version,
    schemeId: edition.schemeId,
    sounds,
    knownCount: sounds.filter(({ guess }) => guess === null).length,
    confidentCount,
    askCount: unknown.length - confidentCount,
  }
}
