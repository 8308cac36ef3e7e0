import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { readWaveform } from '../../app/audio/peaks/waveform.ts'
import type { PeaksPlace } from '../../app/ports/peaks-archive.ts'
import { openPeaksPacks } from '../../main/adapters/files/peaks-packs.ts'
import { OLD_IMAGE, type Outcome, type Place } from './torture-bench.ts'
import { filesBelow, sha256OfFile, treeHash } from './tree-hash.ts'

/** How the run ended: at once, or by itself with a failure. */
export type RunEnd = 'killed' | 'failed'

/**
 * Everything that must hold of a workshop whatever ended the run before, looked at from outside: each
 * promise that is broken, as a sentence. None where all hold.
 */
export async function workshopFaults(
  place: Place,
  reference: Outcome,
  end: RunEnd = 'killed',
): Promise<readonly string[]> {
  const database = join(place.workshop, 'cardwright.sqlite')
  return [
    ...imageFaults(place, reference),
    ...folderFaults(place, reference),
    ...storeFaults(join(place.workshop, 'store')),
    ...(existsSync(database) ? await databaseFaults(database, place, reference, end) : []),
  ]
}

/**
 * What is left that belongs to nobody.
 * @param after a run that was broken off by a fault may have written waveforms that no record tells of, and
 *   the log of a database that it could not fold in: the next run clears them away
 */
export function leftoverFaults(
  { workshop, image, into, temporary }: Place,
  after: 'ended' | 'broken off' = 'ended',
): readonly string[] {
  const packs = after === 'ended' ? packsOnRecord(workshop) : undefined
  const isKnown = (path: string) =>
    KNOWN.some((known) => known.test(path)) ||
    (after === 'broken off' && /^cardwright\.sqlite-(wal|shm)$/.test(path)) ||
    (path.startsWith('peaks/') && packs?.has(path.slice('peaks/'.length)) !== false)
  return [
    ...filesBelow(workshop).filter((path) => !isKnown(path)),
    ...filesBelow(dirname(image)).filter((path) => path !== 'card.img'),
    ...entriesOf(into).filter((name) => name.startsWith('.')),
    ...filesBelow(temporary),
  ].map((path) => `a file is left that belongs to nobody: ${path}`)
}

function packsOnRecord(workshop: string): ReadonlySet<string> {
  const database = new Database(join(workshop, 'cardwright.sqlite'))
  const packs = database.prepare('SELECT DISTINCT pack FROM peaks_place').pluck().all() as string[]
  database.close()
  return new Set(packs)
}

/** What belongs into a workshop that nobody works on. */
const KNOWN = [
  /^cardwright\.sqlite$/,
  /^store\/([0-9a-f]{2})\/\1[0-9a-f]{62}$/,
  /^boards\/torture\.yaml$/,
  /^locks\/[^/]+\.sqlite$/,
]

function imageFaults({ image }: Place, reference: Outcome): readonly string[] {
  const found = sha256OfFile(image)
  if (found === null || found === reference.image) return []
  if (readFileSync(image, 'latin1').slice(0, 100) === OLD_IMAGE) return []
  return ['an image that is not whole lies under its final name']
}

/** Each of the folders that prepared fonts are written into is whole from the moment it has its name. */
function folderFaults({ into }: Place, { folders }: Outcome): readonly string[] {
  return entriesOf(into)
    .filter((name) => !name.startsWith('.') && treeHash(join(into, name)) !== folders[name])
    .map((name) => `a folder of a font is not whole: ${name}`)
}

function entriesOf(folder: string): readonly string[] {
  return existsSync(folder) ? readdirSync(folder) : []
}

function storeFaults(store: string): readonly string[] {
  return filesBelow(store)
    .filter((path) => !path.startsWith('incoming/'))
    .filter(
      (path) =>
        path !== `${path.slice(0, 2)}/${sha256OfFile(join(store, path))}` ||
        !path.startsWith(path.slice(3, 5)),
    )
    .map((path) => `the store holds wrong bytes: ${path}`)
}

async function databaseFaults(
  path: string,
  place: Place,
  reference: Outcome,
  end: RunEnd,
): Promise<readonly string[]> {
  const database = new Database(path)
  try {
    const integrity = database.pragma('integrity_check') as { integrity_check: string }[]
    const dangling = database.pragma('foreign_key_check') as unknown[]
    const faults = [
      ...integrity
        .filter((row) => row.integrity_check !== 'ok')
        .map((row) => `the database: ${row.integrity_check}`),
      ...dangling.map((row) => `the database has a row without its parent: ${JSON.stringify(row)}`),
    ]
    const isMade =
      database.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'prepared_sound'").get() !== undefined
    if (!isMade) return faults
    return [
      ...faults,
      ...contentFaults(database, place, reference, end),
      ...preparedFaults(database, place),
      ...(await peaksFaults(database, place)),
    ]
  } finally {
    database.close()
  }
}

/** A content on record was read back: so its image lies whole in the folder, under whatever name. */
function contentFaults(
  database: Database.Database,
  place: Place,
  reference: Outcome,
  end: RunEnd,
): readonly string[] {
  const { fingerprint, told } = reference
  const rows = database.prepare('SELECT fingerprint, image_hash AS imageHash FROM content').all() as {
    fingerprint: string
    imageHash: string
  }[]
  const { imageHash } = (told ?? {}) as { imageHash?: string }
  return rows.flatMap((row) => {
    if (row.fingerprint !== fingerprint || row.imageHash !== imageHash)
      return [`a content is on record that nobody asked for: ${row.fingerprint}`]
    const folder = dirname(place.image)
    const isThere = readdirSync(folder).some((name) => sha256OfFile(join(folder, name)) === reference.image)
    // One that could not be given its name was removed again, after it was read back.
    const mayBeGone = place.act === 'remake' || end === 'failed'
    return isThere || mayBeGone ? [] : ['a content is on record that was never read back']
  })
}

function preparedFaults(database: Database.Database, { workshop }: Place): readonly string[] {
  const made = database.prepare('SELECT prepared_sha256 FROM preparation').pluck().all() as string[]
  const standing = database
    .prepare('SELECT prepared_sha256 FROM prepared_sound WHERE prepared_sha256 <> original_sha256')
    .pluck()
    .all() as string[]
  return [...new Set([...made, ...standing])]
    .filter((sha256) => !existsSync(join(workshop, 'store', sha256.slice(0, 2), sha256)))
    .map((sha256) => `a prepared sound is on record and not in the store: ${sha256}`)
}

async function peaksFaults(database: Database.Database, { workshop }: Place): Promise<readonly string[]> {
  const places = database
    .prepare('SELECT sha256, pack, offset_bytes AS offsetBytes, length_bytes AS lengthBytes FROM peaks_place')
    .all() as PeaksPlace[]
  const packs = openPeaksPacks(join(workshop, 'peaks'), () => Promise.resolve([]))
  const faults: string[] = []
  for (const each of places) {
    const bytes = await packs.read(each).catch(() => undefined)
    if (bytes === undefined || readWaveform(bytes) === undefined)
      faults.push(`a waveform on record cannot be read: ${each.sha256}`)
  }
  await packs.close()
  return faults
}

/** What the program wrote down of faults of its own: the place is gone before anybody could look. */
export function faultLogs({ workshop }: Place): string {
  const logs = join(workshop, 'logs')
  return filesBelow(logs)
    .map((name) => readFileSync(join(logs, name), 'utf8'))
    .join('\n')
}
