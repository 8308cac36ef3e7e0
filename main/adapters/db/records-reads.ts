import type { Content } from '../../../app/model/content.ts'
import type { Build, Licence } from '../../../app/model/records.ts'
import type { RecordsReader } from '../../../app/ports/bench-records.ts'
import { readSingleSounds } from './build-sounds.ts'
import type { Connection } from './connection.ts'
import { keptOriginalsReads } from './kept-originals.ts'
import { compareNames, nameKey } from './name-key.ts'

/** Reading records, on whichever connection is given. */
export function recordsReads(connection: Connection): RecordsReader {
  const { kysely } = connection
  return {
    async listCreators() {
      const rows = await kysely
        .selectFrom('creator')
        .select(['id', 'name', 'contact', 'note'])
        .orderBy('id')
        .execute()
      return rows.sort((a, b) => compareNames(a.name, b.name))
    },
    findCreatorByName: (name) =>
      kysely
        .selectFrom('creator')
        .select(['id', 'name', 'contact', 'note'])
        .where('name_key', '=', nameKey(name))
        .orderBy('id')
        .executeTakeFirst(),
    listLicences: () => readLicences(connection, null),
    listLicencesOfFonts: (fontIds) => readLicences(connection, new Set(fontIds)),
    listBuilds: () => readBuilds(connection, null),
    async findBuildByCode(code) {
      return (await readBuilds(connection, nameKey(code)))[0]
    },
    async listContents() {
      const rows = await kysely
        .selectFrom('content')
        .select(['fingerprint', 'record'])
        .orderBy('created_at', 'desc')
        .orderBy('fingerprint')
        .execute()
      return Promise.all(rows.map((row) => contentOf(connection, row)))
    },
    async findContent(fingerprint) {
      const row = await kysely
        .selectFrom('content')
        .select(['fingerprint', 'record'])
        .where('fingerprint', '=', fingerprint.toUpperCase())
        .executeTakeFirst()
      return row && contentOf(connection, row)
    },
    async listConfigVersions(buildId) {
      const rows = await kysely
        .selectFrom('build_config')
        .selectAll()
        .where('build_id', '=', buildId)
        .orderBy('number', 'desc')
        .execute()
      return rows.map(({ number, recorded_at, file_name, text }) => {
        return { number, recordedAt: recorded_at, fileName: file_name, text }
      })
    },
    ...keptOriginalsReads(connection),
    async findSetting(key) {
      return connection.prepare('SELECT value FROM setting WHERE key = ?').pluck().get(key) as
        string | undefined
    },
    async findBoardText(boardHash) {
      const row = await kysely
        .selectFrom('board_text')
        .select('text')
        .where('hash', '=', boardHash)
        .executeTakeFirst()
      return row?.text
    },
    async listBoardTexts() {
      const rows = await kysely
        .selectFrom('board_text')
        .select(['hash', 'board_id', 'kept_at'])
        .orderBy('kept_at', 'desc')
        .orderBy('hash')
        .execute()
      return rows.map(({ hash, board_id, kept_at }) => ({ hash, boardId: board_id, keptAt: kept_at }))
    },
    async listJournal(limit) {
      const rows = await kysely
        .selectFrom('journal')
        .innerJoin('actor', 'actor.id', 'journal.actor_id')
        .select(['at', 'actor.name as who', 'what', 'entity', 'entity_id'])
        .orderBy('position', 'desc')
        .limit(limit)
        .execute()
      return rows.map(({ entity_id, ...entry }) => ({ ...entry, entityId: entity_id }))
    },
  }
}

/** Sorted by font name, then day and id. @param fontIds null for all */
async function readLicences(
  { kysely }: Connection,
  fontIds: ReadonlySet<string> | null,
): Promise<readonly Licence[]> {
  const rows = await kysely
    .selectFrom('licence')
    .innerJoin('font', 'font.id', 'licence.font_id')
    .leftJoin('holder', 'holder.id', 'licence.holder_id')
    .leftJoin('licence_note', 'licence_note.licence_id', 'licence.id')
    .select([
      'licence.id',
      'font_id',
      'font.name as font_name',
      'holder.name as holder',
      'kind',
      'granted_on',
      'order_reference',
      'terms',
      'conversion_allowed',
      'licence_note.text as note',
    ])
    .orderBy('granted_on')
    .orderBy('licence.id')
    .execute()
  return rows
    .filter((row) => fontIds === null || fontIds.has(row.font_id))
    .map((row) => ({
      id: row.id,
      fontId: row.font_id,
      fontName: row.font_name,
      holder: row.holder ?? '',
      kind: row.kind,
      grantedOn: row.granted_on,
      orderReference: row.order_reference,
      terms: row.terms,
      conversionAllowed: row.conversion_allowed,
      note: row.note ?? '',
    }))
    .sort((a, b) => compareNames(a.fontName, b.fontName))
}

/** Sorted by code. @param codeKey null for all */
async function readBuilds(connection: Connection, codeKey: string | null): Promise<readonly Build[]> {
  const { kysely } = connection
  let query = kysely
    .selectFrom('build')
    .leftJoin('client', 'client.id', 'build.client_id')
    .leftJoin('build_note', 'build_note.build_id', 'build.id')
    .selectAll('build')
    .select(['client.label as client_label', 'build_note.text as note'])
  if (codeKey !== null) query = query.where('code_key', '=', codeKey)
  const rows = await query.execute()
  const builds: Build[] = []
  for (const row of rows) {
    const fonts = await kysely
      .selectFrom('build_font')
      .select('edition_id')
      .where('build_id', '=', row.id)
      .orderBy('position')
      .execute()
    const ruleChanges = await kysely
      .selectFrom('build_rule')
      .select(['rule', 'severity', 'reason'])
      .where('build_id', '=', row.id)
      .orderBy('rule')
      .execute()
    builds.push({
      id: row.id,
      code: row.code,
      clientLabel: row.client_label ?? '',
      boardId: row.board_id,
      speaker: row.speaker,
      speakerLowLimitHz: row.speaker_low_limit_hz,
      fontEditionIds: fonts.map((font) => font.edition_id),
      config:
        row.config_file_name === null
          ? null
          : { fileName: row.config_file_name, text: row.config_text ?? '' },
      ruleChanges,
      singleSounds: await readSingleSounds(connection, row.id),
      note: row.note ?? '',
    })
  }
  return builds.sort((a, b) => compareNames(a.code, b.code))
}

/** Puts the creators' names, which are kept apart, back into a record. */
async function contentOf(
  { kysely }: Connection,
  row: { readonly fingerprint: string; readonly record: string },
): Promise<Content> {
  const content = JSON.parse(row.record) as Content
  const credits = await kysely
    .selectFrom('content_credit')
    .select(['slot', 'creator_name'])
    .where('fingerprint', '=', row.fingerprint)
    .execute()
  const names = new Map(credits.map((credit) => [credit.slot, credit.creator_name]))
  return {
    ...content,
    fonts: content.fonts.map((font) => ({ ...font, creatorName: names.get(font.slot) ?? null })),
  }
}
