import type { ResponseOf } from '../contract/calls.ts'
import { AppError, Cancelled } from '../errors/app-error.ts'
import type { Edition } from '../model/library.ts'
import type { KeptOriginal } from '../ports/kept-originals.ts'
import type { Originals, WantedOriginal } from '../ports/originals.ts'
import type { ContentStore } from '../ports/content-store.ts'
import type { RunControl } from '../ports/progress.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

export interface KeepPorts {
  readonly database: WorkshopDatabase
  readonly store: ContentStore
  readonly originals: Originals
}

export type KeptNow = ResponseOf<'originals:keep'>['kept']

/** Every file of an edition that the store may keep, each path once. */
export function originalsOf({ sounds, companions }: Edition): readonly WantedOriginal[] {
  return [
    ...sounds.map(({ path, inspection: { sizeBytes, sha256 } }) => ({ path, sizeBytes, sha256 })),
    ...companions.map(({ path, sizeBytes, sha256 }) => ({ path, sizeBytes, sha256 })),
  ]
}

/**
 * Brings the originals of editions into the store and records that they are kept. Those that are kept
 * already are not asked for again. What stops it at a font, be it that nothing can be read there any
 * more or that the disk is full, is told and no error: the record that names the font stands.
 *
 * @throws AppError `font/unknown`; Cancelled
 */
export async function keepEditions(
  editionIds: readonly string[],
  { database, store, originals }: KeepPorts,
  control: RunControl,
): Promise<KeptNow> {
  const fonts: KeptNow['fonts'][number][] = []
  const problems: string[] = []
  for (const editionId of new Set(editionIds)) {
    const edition = await database.library.getEdition(editionId)
    const wanted = originalsOf(edition)
    const listed = new Set((await database.records.listKeptOriginals(editionId)).map(nameOf))
    if (wanted.every((one) => listed.has(nameOf(one)))) continue
    const before = await missingOf(wanted, store)
    try {
      await originals.keep(
        edition.font.name,
        edition.places,
        wanted.filter(({ sizeBytes }) => sizeBytes > 0),
        control,
      )
    } catch (error) {
      if (!(error instanceof AppError) || error instanceof Cancelled) throw error
      problems.push(`${edition.font.name}: ${error.what} ${error.mend}`)
    }
    const after = new Set((await missingOf(wanted, store)).map(({ sha256 }) => sha256))
    const kept = wanted.filter(({ sha256 }) => !after.has(sha256))
    await database.inTransaction(({ records }) => records.addKeptOriginals(editionId, kept))
    const fresh = before.filter(({ sha256 }) => !after.has(sha256))
    if (fresh.length === 0) continue
    const { font, version } = edition
    fonts.push({ editionId, font: font.name, version, files: fresh.length, bytes: bytesOf(fresh) })
  }
  return {
    fonts,
    files: fonts.reduce((sum, { files }) => sum + files, 0),
    bytes: fonts.reduce((sum, { bytes }) => sum + bytes, 0),
    problems,
  }
}

/** The same for every edition of a font that is there: a licence speaks of the font. @throws as `keepEditions` */
export async function keepEditionsOfFont(
  fontId: string,
  ports: KeepPorts,
  control: RunControl,
): Promise<KeptNow> {
  const editions = await ports.database.library.listEditions()
  const own = editions.filter(({ font, state }) => font.id === fontId && state === 'present')
  return keepEditions(
    own.map(({ id }) => id),
    ports,
    control,
  )
}

function nameOf({ path, sha256 }: Pick<KeptOriginal, 'path' | 'sha256'>): string {
  return `${sha256} ${path}`
}

/** What the store has not, equal bytes once. Nothing has to be kept of an empty file. */
async function missingOf(
  wanted: readonly WantedOriginal[],
  store: ContentStore,
): Promise<readonly WantedOriginal[]> {
  const missing = new Map<string, WantedOriginal>()
  for (const one of wanted) {
    if (one.sizeBytes > 0 && !missing.has(one.sha256) && !(await store.has(one.sha256)))
      missing.set(one.sha256, one)
  }
  return [...missing.values()]
}

function bytesOf(files: readonly { readonly sizeBytes: number }[]): number {
  return files.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0)
}
