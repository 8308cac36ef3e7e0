import { AppError } from '../../../app/errors/app-error.ts'
import type { Edition, EditionPlace, EditionSummary, ScanRoot } from '../../../app/model/library.ts'
import type {
  EditionIdentity,
  KnownFile,
  LibraryReader,
  SpeakerLevel,
} from '../../../app/ports/library-records.ts'
import type { Connection } from './connection.ts'
import { inspectionOf } from './inspection-rows.ts'
import { compareNames } from './name-key.ts'
import type { InspectionRow, SoundRow, Tables } from './tables.ts'
import type { Selectable } from 'kysely'

/**
 * Reading the library, on whichever connection is given. What may grow with the number of sounds is
 * given in parts, so that neither side ever holds it twice.
 */
export interface LibraryReads extends Omit<LibraryReader, StreamedReads | 'getEdition'> {
  listEditions(): AsyncGenerator<readonly EditionSummary[]>
  getEditions(editionIds: readonly string[]): AsyncGenerator<readonly Edition[]>
  listKnownFiles(rootId: string): AsyncGenerator<readonly KnownFile[]>
  listEditionIdentities(): AsyncGenerator<readonly EditionIdentity[]>
  listSpeakerLevels(limitHz: number): AsyncGenerator<readonly SpeakerLevel[]>
}
export type StreamedReads =
  'listEditions' | 'getEditions' | 'listKnownFiles' | 'listEditionIdentities' | 'listSpeakerLevels'

/** Rows in one part: some milliseconds of work for whoever takes it. */
const PART_ROWS = 1000

export function libraryReads(connection: Connection): LibraryReads {
  const { kysely } = connection
  return {
    async listRoots() {
      const rows = await kysely.selectFrom('root').selectAll().where('removed_at', 'is', null).execute()
      return rows.map(rootOf).sort((a, b) => compareNames(a.path, b.path))
    },
    async findRootByPath(path) {
      const row = connection.prepare('SELECT * FROM root WHERE path = ? AND removed_at IS NULL').get(path)
      return row === undefined ? undefined : rootOf(row as Tables['root'])
    },
    async *listEditions() {
      const rows = await summaryRows(connection).execute()
      const places = await placesByEdition(connection, null)
      const summaries = rows.map((row) => summaryOf(row, places.get(row.id) ?? []))
      summaries.sort(
        (a, b) =>
          compareNames(a.font.name, b.font.name) ||
          compareNames(a.version, b.version) ||
          compareNames(a.id, b.id),
      )
      yield* inParts(summaries, PART_ROWS)
    },
    async *getEditions(editionIds) {
      let part: Edition[] = []
      let sounds = 0
      for (const id of editionIds) {
        const edition = await readEdition(connection, id)
        part.push(edition)
        sounds += edition.sounds.length
        if (sounds < PART_ROWS / 2) continue
        yield part
        part = []
        sounds = 0
      }
      yield part
    },
    async findLastScan(rootId) {
      const root = connection
        .prepare('SELECT last_scan_at, tree_digest FROM root WHERE id = ?')
        .get(rootId) as Pick<Tables['root'], 'last_scan_at' | 'tree_digest'> | undefined
      if (root === undefined || root.last_scan_at === null) return undefined
      const counts = connection
        .prepare(
          `SELECT count(*) AS editions, ifnull(sum(sound_count), 0) AS sounds
           FROM place JOIN edition ON edition.id = place.edition_id
           WHERE root_id = ? AND place.state = 'present'`,
        )
        .get(rootId) as { readonly editions: number; readonly sounds: number }
      return { treeDigest: root.tree_digest, editionCount: counts.editions, soundCount: counts.sounds }
    },
    async *listKnownFiles(rootId) {
      const rows = connection
        .prepare('SELECT path, size_bytes, modified_ns, file_key, sha256 FROM known_file WHERE root_id = ?')
        .iterate(rootId) as IterableIterator<Omit<Tables['known_file'], 'root_id'>>
      yield* inParts(rows, PART_ROWS, (row) => ({
        path: row.path,
        sizeBytes: row.size_bytes,
        modifiedNs: row.modified_ns,
        fileKey: row.file_key,
        sha256: row.sha256,
      }))
    },
    async findPeaks(sha256) {
      const row = await kysely
        .selectFrom('peaks_place')
        .selectAll()
        .where('sha256', '=', sha256)
        .executeTakeFirst()
      return row && { sha256, pack: row.pack, offsetBytes: row.offset_bytes, lengthBytes: row.length_bytes }
    },
    async listPeaksPacks() {
      const rows = await kysely.selectFrom('peaks_place').select('pack').distinct().orderBy('pack').execute()
      return rows.map(({ pack }) => pack)
    },
    async knownInspections(sha256s) {
      const known = connection.prepare('SELECT 1 FROM inspection WHERE sha256 = ?').pluck()
      return sha256s.filter((sha256) => known.get(sha256) !== undefined)
    },
    async *listEditionIdentities() {
      const places = await placesByEdition(connection, null)
      const hashes = connection
        .prepare('SELECT sha256 FROM sound WHERE edition_id = ? ORDER BY sha256')
        .pluck()
      const ids = await kysely.selectFrom('edition').select('id').orderBy('id').execute()
      yield* inParts(ids, PART_ROWS / 20, ({ id }) => ({
        editionId: id,
        places: places.get(id) ?? [],
        soundHashes: hashes.all(id) as string[],
      }))
    },
    async listScanProblems() {
      const rows = connection
        .prepare(
          `SELECT root_id, scan_problem.path AS path, code, message, severity
           FROM scan_problem JOIN root ON root.id = root_id ORDER BY root.path, position`,
        )
        .all() as readonly Omit<Tables['scan_problem'], 'position'>[]
      return rows.map(({ root_id, ...problem }) => ({ rootId: root_id, ...problem }))
    },
    async findSound(soundId) {
      const row = await kysely
        .selectFrom('sound')
        .innerJoin('inspection', 'inspection.sha256', 'sound.sha256')
        .select(['sound.edition_id', 'sound.path', 'sound.sha256', 'inspection.size_bytes'])
        .where('sound.id', '=', soundId)
        .executeTakeFirst()
      if (row === undefined) return undefined
      const { edition_id, path, sha256, size_bytes } = row
      return { editionId: edition_id, path, sha256, sizeBytes: size_bytes }
    },
    async findSpeakerLevels(limitHz, soundKeys) {
      const find = connection.prepare('SELECT * FROM speaker_level WHERE low_limit_hz = ? AND sound_key = ?')
      return soundKeys.flatMap((soundKey) => {
        const row = find.get(limitHz, soundKey) as Tables['speaker_level'] | undefined
        return row === undefined ? [] : [speakerLevelOf(row)]
      })
    },
    async *listSpeakerLevels(limitHz) {
      const rows = await kysely
        .selectFrom('speaker_level')
        .selectAll()
        .where('low_limit_hz', '=', limitHz)
        .execute()
      yield* inParts(rows, PART_ROWS, speakerLevelOf)
    },
    async findContentPlaces(sha256) {
      const rows = await kysely
        .selectFrom('known_file')
        .innerJoin('root', 'root.id', 'known_file.root_id')
        .select(['root.path as root_path', 'known_file.path'])
        .where('sha256', '=', sha256)
        .where('removed_at', 'is', null)
        .orderBy('root.path')
        .orderBy('known_file.path')
        .execute()
      return rows.map((row) => ({ rootPath: row.root_path, path: row.path }))
    },
  }
}

/** @throws AppError `font/unknown` */
async function readEdition(connection: Connection, id: string): Promise<Edition> {
  const row = await summaryRows(connection).select('litter').where('edition.id', '=', id).executeTakeFirst()
  if (row === undefined) throw unknownFont(id)
  const places = await placesByEdition(connection, id)
  const sounds = connection
    .prepare(
      `SELECT sound.*, inspection.* FROM sound JOIN inspection USING (sha256)
       WHERE edition_id = ? ORDER BY sound.path`,
    )
    .all(id) as (SoundRow & InspectionRow)[]
  const companions = await connection.kysely
    .selectFrom('companion')
    .selectAll()
    .where('edition_id', '=', id)
    .orderBy('path')
    .execute()
  return {
    ...summaryOf(row, places.get(id) ?? []),
    sounds: sounds.map((sound) => ({
      id: sound.id,
      editionId: id,
      path: sound.path,
      place:
        sound.role === null
          ? null
          : { role: sound.role, part: sound.part ?? 'body', layer: sound.layer, number: sound.number },
      roleSource: sound.role_source,
      inspection: inspectionOf(sound),
    })),
    companions: companions.map(({ path, size_bytes, sha256, kind }) => ({
      path,
      sizeBytes: size_bytes,
      sha256,
      kind,
    })),
    litter: JSON.parse(row.litter) as string[],
  }
}

export function unknownFont(id: string): AppError {
  return new AppError({
    code: 'font/unknown',
    what: 'The library has no font of this id.',
    where: id,
    mend: '`fonts list` shows all fonts.',
  })
}

function summaryRows({ kysely }: Connection) {
  return kysely
    .selectFrom('edition')
    .innerJoin('font', 'font.id', 'edition.font_id')
    .leftJoin('creator', 'creator.id', 'font.creator_id')
    .leftJoin('proposed_creator', 'proposed_creator.id', 'font.proposed_creator_id')
    .select([
      'edition.id',
      'font_id',
      'font.name',
      'creator_id',
      'creator.name as creator_name',
      'proposed_creator.name as proposed_creator_name',
      'version',
      'state',
      'scheme_id',
      'sound_count',
      'companion_count',
      'size_bytes',
      'first_seen_at',
    ])
}

type SummaryRow = Awaited<ReturnType<ReturnType<typeof summaryRows>['executeTakeFirstOrThrow']>>

function summaryOf(row: SummaryRow, places: readonly EditionPlace[]): EditionSummary {
  return {
    id: row.id,
    font: {
      id: row.font_id,
      name: row.name,
      creatorId: row.creator_id,
      creatorName: row.creator_name,
      proposedCreatorName: row.proposed_creator_name,
    },
    version: row.version,
    state: row.state,
    places,
    schemeId: row.scheme_id,
    soundCount: row.sound_count,
    companionCount: row.companion_count,
    sizeBytes: row.size_bytes,
    firstSeenAt: row.first_seen_at,
  }
}

function speakerLevelOf(row: Tables['speaker_level']): SpeakerLevel {
  return {
    soundKey: row.sound_key,
    readings: { integratedLufs: row.integrated_lufs, momentaryMaxLufs: row.momentary_max_lufs },
  }
}

/** Places that are there come first. */
async function placesByEdition(
  { kysely }: Connection,
  editionId: string | null,
): Promise<ReadonlyMap<string, readonly EditionPlace[]>> {
  let query = kysely
    .selectFrom('place')
    .select(['edition_id', 'root_id', 'path', 'inner_path', 'state'])
    .orderBy('state', 'desc')
    .orderBy('path')
    .orderBy('inner_path')
    .orderBy('root_id')
  if (editionId !== null) query = query.where('edition_id', '=', editionId)
  const found = new Map<string, EditionPlace[]>()
  for (const row of await query.execute()) {
    const place = { rootId: row.root_id, path: row.path, innerPath: row.inner_path, state: row.state }
    const others = found.get(row.edition_id)
    if (others === undefined) found.set(row.edition_id, [place])
    else others.push(place)
  }
  return found
}

function rootOf(row: Selectable<Tables['root']>): ScanRoot {
  return {
    id: row.id,
    path: row.path,
    kind: row.kind,
    addedAt: row.added_at,
    lastScanAt: row.last_scan_at,
  }
}

function* inParts<Row, T = Row>(
  rows: Iterable<Row>,
  partRows: number,
  toItem: (row: Row) => T = (row) => row as unknown as T,
): Generator<readonly T[]> {
  let part: T[] = []
  for (const row of rows) {
    part.push(toItem(row))
    if (part.length < partRows) continue
    yield part
    part = []
  }
  yield part
}
