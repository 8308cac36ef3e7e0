import { AppError } from '../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { Edition } from '../model/library.ts'
import type { OriginalsNeed } from '../ports/kept-originals.ts'
import type { NamedLocks } from '../ports/named-locks.ts'
import type { RunControl } from '../ports/progress.ts'
import { keepEditions, originalsOf, type KeepPorts } from './keep-editions.ts'
import { STORE_LOCK } from './while-originals-stay.ts'

type Originals = ResponseOf<'originals:show'>

/** What the store holds of an edition, and what needs it. @throws AppError `font/unknown` */
export async function showOriginals(
  editionId: string,
  { database, store }: Pick<KeepPorts, 'database' | 'store'>,
): Promise<Originals> {
  const [edition, listed, neededBy] = await Promise.all([
    database.library.getEdition(editionId),
    database.records.listKeptOriginals(editionId),
    database.records.listOriginalsNeeds(editionId),
  ])
  const now = onceEach(originalsOf(edition))
  const kept = await inStore(now, store)
  const current = new Set(now.map(({ sha256 }) => sha256))
  const earlier = await inStore(onceEach(listed.filter(({ sha256 }) => !current.has(sha256))), store)
  return {
    editionId,
    font: edition.font.name,
    version: edition.version,
    files: now.length,
    bytes: bytesOf(now),
    keptFiles: kept.length,
    keptBytes: bytesOf(kept),
    earlierFiles: earlier.length,
    earlierBytes: bytesOf(earlier),
    isElsewhere: isElsewhere(edition),
    neededBy: [...neededBy],
  }
}

/** Keeps an edition's originals because the user says so. @throws AppError of `keepEditions`; Cancelled */
export async function keepFont(
  editionId: string,
  ports: KeepPorts,
  control: RunControl,
): Promise<ResponseOf<'originals:keep'>> {
  const kept = await keepEditions([editionId], ports, control)
  return { originals: await showOriginals(editionId, ports), kept }
}

/**
 * Takes an edition's originals out of the store, and what was prepared of them: prepared bytes are
 * never kept without the originals they are of. Bytes that another record needs stay.
 *
 * @throws AppError `originals/needed`, `originals/only-copy`, `font/unknown`, `lock/held`
 */
export async function releaseFont(
  { editionId, onlyCopy = false }: RequestOf<'originals:release'>,
  ports: KeepPorts & { readonly locks: NamedLocks },
): Promise<ResponseOf<'originals:release'>> {
  const lock = await ports.locks.acquire(STORE_LOCK, 'releasing originals')
  try {
    const free = await ports.database.inTransaction(async ({ library, records }) => {
      const [edition] = await library.getEditions([editionId])
      const needs = await records.listOriginalsNeeds(editionId)
      if (needs.length > 0) throw needed(edition, needs)
      if (edition !== undefined && !isElsewhere(edition) && !onlyCopy) throw onlyCopyLeft(edition)
      return records.dropKeptOriginals(editionId)
    })
    let freedFiles = 0
    let freedBytes = 0
    for (const sha256 of free) {
      const bytes = await ports.store.remove(sha256)
      if (bytes === null) continue
      freedFiles += 1
      freedBytes += bytes
    }
    return { originals: await showOriginals(editionId, ports), freedFiles, freedBytes }
  } finally {
    await lock.release()
  }
}

function isElsewhere({ places }: Edition): boolean {
  return places.some(({ state }) => state === 'present')
}

interface Bytes {
  readonly sha256: string
  readonly sizeBytes: number
}

function onceEach(files: readonly Bytes[]): readonly Bytes[] {
  return [
    ...new Map(files.filter(({ sizeBytes }) => sizeBytes > 0).map((file) => [file.sha256, file])).values(),
  ]
}

async function inStore(files: readonly Bytes[], store: KeepPorts['store']): Promise<readonly Bytes[]> {
  const found: Bytes[] = []
  for (const file of files) if (await store.has(file.sha256)) found.push(file)
  return found
}

function bytesOf(files: readonly Bytes[]): number {
  return files.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0)
}

/** Most of what needs them that one message names. */
const NAMED_NEEDS = 6

const WAY_OUT: Readonly<Record<OriginalsNeed['kind'], string>> = {
  content: 'A content that was made is made again from them: they stay.',
  build: 'Take the font out of the build first.',
  licence: 'Remove the licence first, where it is no longer yours.',
}

function needed(edition: Edition | undefined, needs: readonly OriginalsNeed[]): AppError {
  const told = needs.slice(0, NAMED_NEEDS).map(({ kind, name }) => `${kind} ${name}`)
  const more = needs.length - told.length
  const gravest = (['content', 'build', 'licence'] as const).find((kind) =>
    needs.some((need) => need.kind === kind),
  )
  return new AppError({
    code: 'originals/needed',
    what: `Its originals are needed by ${told.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`,
    where: edition === undefined ? '' : `font "${edition.font.name}"`,
    mend: gravest === undefined ? '' : WAY_OUT[gravest],
    kind: 'unmet',
  })
}

function onlyCopyLeft(edition: Edition): AppError {
  return new AppError({
    code: 'originals/only-copy',
    what: 'Its folder or archive is gone: what the store has is the only copy that the workshop knows of.',
    where: `font "${edition.font.name}"`,
    mend: 'Scan a copy first, or say --only-copy to lose it.',
    kind: 'unmet',
  })
}
