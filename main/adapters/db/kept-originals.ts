import type {
  KeptOriginal,
  KeptOriginalsReader,
  KeptOriginalsWriter,
  OriginalsNeed,
} from '../../../app/ports/kept-originals.ts'
import type { Connection } from './connection.ts'
import { unknownFont } from './library-reads.ts'
import { compareNames } from './name-key.ts'
import type { WriteContext } from './write-context.ts'

/** Reading which originals are kept, on whichever connection is given. */
export function keptOriginalsReads(connection: Connection): KeptOriginalsReader {
  return {
    async listKeptOriginals(editionId) {
      const rows = await connection.kysely
        .selectFrom('kept_original')
        .select(['path', 'sha256', 'size_bytes'])
        .where('edition_id', '=', editionId)
        .orderBy('path')
        .orderBy('kept_at')
        .execute()
      return rows.map(({ path, sha256, size_bytes }) => ({ path, sha256, sizeBytes: size_bytes }))
    },
    async listOriginalsNeeds(editionId) {
      const named = (kind: OriginalsNeed['kind'], query: string): OriginalsNeed[] =>
        (connection.prepare(query).pluck().all({ edition: editionId }) as string[])
          .sort(compareNames)
          .map((name) => ({ kind, name }))
      return [
        ...named('build', BUILDS),
        ...named('content', 'SELECT fingerprint FROM content_source WHERE edition_id = $edition'),
        ...named('licence', LICENCES),
      ]
    },
  }
}

const BUILDS = `
  SELECT code FROM build WHERE id IN (
    SELECT build_id FROM build_font WHERE edition_id = $edition
    UNION SELECT build_id FROM build_sound WHERE edition_id = $edition OR from_edition_id = $edition
  )`

/** A licence has no name of its own: its font's, its kind and its day tell which one it is. */
const LICENCES = `
  SELECT font.name || ', ' || kind || iif(granted_on = '', '', ' on ' || granted_on)
  FROM licence JOIN font ON font.id = licence.font_id
  JOIN edition ON edition.font_id = font.id
  WHERE edition.id = $edition`

export function keptOriginalsWrites(context: WriteContext): KeptOriginalsWriter {
  const { connection } = context
  return {
    addKeptOriginals(editionId, originals) {
      if (connection.prepare('SELECT 1 FROM edition WHERE id = ?').get(editionId) === undefined)
        throw unknownFont(editionId)
      const put = connection.prepare(
        `INSERT INTO kept_original (edition_id, path, sha256, size_bytes, kept_at) VALUES (?, ?, ?, ?, ?)
         ON CONFLICT DO NOTHING`,
      )
      const fresh = originals.filter((one: KeptOriginal) => {
        return put.run(editionId, one.path, one.sha256, one.sizeBytes, context.at()).changes > 0
      })
      if (fresh.length > 0) context.journal('kept originals', 'edition', editionId)
      return Promise.resolve()
    },
    dropKeptOriginals(editionId) {
      const own = new Set(connection.prepare(OWN_BYTES).pluck().all({ edition: editionId }) as string[])
      for (const table of ['kept_original', 'prepared_sound']) {
        connection.prepare(`DELETE FROM ${table} WHERE edition_id = ?`).run(editionId)
      }
      const needed = connection.prepare(NEEDED)
      const isFree = (sha256: string): boolean => needed.get({ sha256 }) === undefined
      const outputsOf = connection
        .prepare('SELECT prepared_sha256 FROM preparation WHERE original_sha256 = ?')
        .pluck()
      const forget = connection.prepare('DELETE FROM preparation WHERE original_sha256 = ?')
      const made = connection.prepare('SELECT 1 FROM preparation WHERE prepared_sha256 = ?')
      const free = [...own].filter(isFree)
      const outputs = new Set(free.flatMap((sha256) => outputsOf.all(sha256) as string[]))
      for (const sha256 of free) forget.run(sha256)
      const freeOutputs = [...outputs].filter(
        (sha256) => !own.has(sha256) && made.get(sha256) === undefined && isFree(sha256),
      )
      context.journal('released originals', 'edition', editionId)
      return Promise.resolve([...free.filter((sha256) => made.get(sha256) === undefined), ...freeOutputs])
    },
  }
}

/** Everything of an edition that may be in the store: what was kept, and what preparing brought there. */
const OWN_BYTES = `
  SELECT sha256 FROM kept_original WHERE edition_id = $edition
  UNION SELECT sha256 FROM sound WHERE edition_id = $edition
  UNION SELECT sha256 FROM companion WHERE edition_id = $edition
  UNION SELECT original_sha256 FROM prepared_sound WHERE edition_id = $edition`

/** A content, or another edition that is kept or prepared. */
const NEEDED = `
  SELECT 1 FROM content_bytes WHERE sha256 = $sha256
  UNION ALL SELECT 1 FROM kept_original WHERE sha256 = $sha256
  UNION ALL SELECT 1 FROM prepared_sound WHERE original_sha256 = $sha256 OR prepared_sha256 = $sha256
  LIMIT 1`
