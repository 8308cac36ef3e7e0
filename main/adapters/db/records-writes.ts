import { AppError } from '../../../app/errors/app-error.ts'
import type { Content } from '../../../app/model/content.ts'
import type { Build, Creator, Licence, NewBuild, NewLicence } from '../../../app/model/records.ts'
import type { RecordsWriter } from '../../../app/ports/bench-records.ts'
import { putConfigVersion, putSingleSounds } from './build-sounds.ts'
import { keptOriginalsWrites } from './kept-originals.ts'
import { unknownFont } from './library-reads.ts'
import { nameKey } from './name-key.ts'
import { clientId, forgetUnusedPeople, holderId } from './people.ts'
import { recordsReads } from './records-reads.ts'
import type { WriteContext } from './write-context.ts'

/** Writing records. Whatever is refused is refused before the first row is written. */
export function recordsWrites(context: WriteContext): RecordsWriter {
  const { kysely } = context.connection
  return {
    async addCreator({ name, contact, note }) {
      const creator = { id: context.newId(), name, contact, note }
      await kysely
        .insertInto('creator')
        .values({ ...creator, name_key: nameKey(name) })
        .execute()
      context.journal('added', 'creator', creator.id)
      return creator
    },
    async changeCreator(id, change) {
      const creator: Creator = { ...(await getCreator(context, id)), ...told(change) }
      const { name, contact, note } = creator
      await kysely
        .updateTable('creator')
        .set({ name, name_key: nameKey(name), contact, note })
        .where('id', '=', id)
        .execute()
      context.journal(changed(change), 'creator', id)
      return creator
    },
    async addLicence(licence) {
      await refuseUnknownFont(context, licence.fontId)
      const id = context.newId()
      await kysely
        .insertInto('licence')
        .values({ id, ...licenceColumns(context, licence) })
        .execute()
      await putNote(context, 'licence', id, licence.note)
      context.journal('added', 'licence', id)
      return getLicence(context, id)
    },
    async changeLicence(id, change) {
      const licence: Licence = { ...(await getLicence(context, id)), ...told(change) }
      await refuseUnknownFont(context, licence.fontId)
      await kysely.updateTable('licence').set(licenceColumns(context, licence)).where('id', '=', id).execute()
      await putNote(context, 'licence', id, licence.note)
      forgetUnusedPeople(context)
      context.journal(changed(change), 'licence', id)
      return getLicence(context, id)
    },
    async removeLicence(id) {
      await getLicence(context, id)
      await kysely.deleteFrom('licence').where('id', '=', id).execute()
      forgetUnusedPeople(context)
      context.journal('removed', 'licence', id)
    },
    async addBuild(build) {
      await refuseBadBuild(context, build, null)
      const id = context.newId()
      await kysely
        .insertInto('build')
        .values({ id, ...buildColumns(context, build) })
        .execute()
      await putFonts(context, id, build.fontEditionIds)
      await putRuleChanges(context, id, build.ruleChanges)
      putConfigVersion(context, id, build.config)
      await putNote(context, 'build', id, build.note)
      context.journal('added', 'build', id)
      return { ...build, id, singleSounds: [] }
    },
    async changeBuild(id, change) {
      const build: Build = { ...(await getBuild(context, id)), ...told(change) }
      await refuseBadBuild(context, build, id)
      await kysely.updateTable('build').set(buildColumns(context, build)).where('id', '=', id).execute()
      await putFonts(context, id, build.fontEditionIds)
      await putRuleChanges(context, id, build.ruleChanges)
      putConfigVersion(context, id, build.config)
      await putNote(context, 'build', id, build.note)
      forgetUnusedPeople(context)
      context.journal(changed(change), 'build', id)
      return build
    },
    async setSingleSounds(buildId, singleSounds) {
      const build = await getBuild(context, buildId)
      refuseUnknownEditions(context, [
        ...singleSounds.map(({ editionId }) => editionId),
        ...singleSounds.flatMap((single) => (single.kind === 'left-out' ? [] : single.sound.editionId)),
      ])
      await putSingleSounds(context, buildId, singleSounds)
      context.journal('changed singleSounds', 'build', buildId)
      return { ...build, singleSounds }
    },
    ...keptOriginalsWrites(context),
    async addContent(content) {
      const { fingerprint } = content
      const known = await kysely
        .selectFrom('content')
        .select('fingerprint')
        .where('fingerprint', '=', fingerprint)
        .executeTakeFirst()
      if (known !== undefined) return
      await putContent(context, content)
      context.journal('made', 'content', fingerprint)
    },
    async replaceContent(content) {
      const { fingerprint } = content
      const known = await kysely
        .selectFrom('content')
        .select('fingerprint')
        .where('fingerprint', '=', fingerprint)
        .executeTakeFirst()
      if (known === undefined) {
        refuse(
          'content/unknown',
          'No content of this fingerprint is recorded.',
          fingerprint,
          '`cards list` shows all.',
        )
      }
      for (const table of CONTENT_TABLES) {
        await kysely.deleteFrom(table).where('fingerprint', '=', fingerprint).execute()
      }
      await putContent(context, content)
      context.journal('made again', 'content', fingerprint)
    },
    async keepBoardText(boardHash, boardId, text) {
      const { numInsertedOrUpdatedRows } = await kysely
        .insertInto('board_text')
        .values({ hash: boardHash, board_id: boardId, kept_at: context.at(), text })
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirstOrThrow()
      if (numInsertedOrUpdatedRows === 1n) context.journal('kept text', 'board', boardId)
    },
    async setSetting(key, value) {
      await kysely
        .insertInto('setting')
        .values({ key, value })
        .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
        .execute()
      context.journal('set', 'setting', key)
    },
  }
}

/** Tables of a content, what refers to others before those. */
const CONTENT_TABLES = [
  'content_font',
  'content_credit',
  'content_bytes',
  'content_source',
  'content',
] as const

/** The creators' names stand apart from the record, so that one of them can be forgotten. */
async function putContent({ connection }: WriteContext, content: Content): Promise<void> {
  const { fingerprint } = content
  const record = { ...content, fonts: content.fonts.map((font) => ({ ...font, creatorName: null })) }
  await connection.kysely
    .insertInto('content')
    .values({
      fingerprint,
      created_at: content.createdAt,
      board_id: content.boardId,
      board_hash: content.boardHash,
      build_id: content.buildId,
      image_hash: content.imageHash,
      image_bytes: content.geometry.imageBytes,
      tool_version: content.toolVersion,
      record: JSON.stringify(record),
    })
    .execute()
  const putFont = connection.prepare(
    'INSERT INTO content_font (fingerprint, slot, edition_id, font_id) VALUES (?, ?, ?, ?)',
  )
  const putCredit = connection.prepare(
    'INSERT INTO content_credit (fingerprint, slot, creator_name) VALUES (?, ?, ?)',
  )
  for (const { slot, editionId, fontId, creatorName } of content.fonts) {
    putFont.run(fingerprint, slot, editionId, fontId)
    if (creatorName !== null) putCredit.run(fingerprint, slot, creatorName)
  }
  const needed = [
    ...content.files.map(({ sha256 }) => sha256),
    ...(content.recipes ?? []).map(({ originalSha256 }) => originalSha256),
  ]
  const putBytes = connection.prepare('INSERT INTO content_bytes (fingerprint, sha256) VALUES (?, ?)')
  for (const sha256 of new Set(needed)) putBytes.run(fingerprint, sha256)
  const sources = [
    ...content.fonts.map(({ editionId }) => editionId),
    ...content.files.flatMap(({ origin }) => ('editionId' in origin ? origin.editionId : [])),
  ]
  const putSource = connection.prepare('INSERT INTO content_source (fingerprint, edition_id) VALUES (?, ?)')
  for (const editionId of new Set(sources)) putSource.run(fingerprint, editionId)
}

/** @throws AppError `creator/unknown` */
export async function refuseUnknownCreator(context: WriteContext, id: string): Promise<void> {
  await getCreator(context, id)
}

async function getCreator({ connection }: WriteContext, id: string): Promise<Creator> {
  const found = await connection.kysely
    .selectFrom('creator')
    .select(['id', 'name', 'contact', 'note'])
    .where('id', '=', id)
    .executeTakeFirst()
  return (
    found ?? refuse('creator/unknown', 'No creator of this id is recorded.', id, '`creators list` shows all.')
  )
}

async function getLicence({ connection }: WriteContext, id: string): Promise<Licence> {
  const found = (await recordsReads(connection).listLicences()).find((licence) => licence.id === id)
  return (
    found ?? refuse('licence/unknown', 'No licence of this id is recorded.', id, '`licences list` shows all.')
  )
}

async function getBuild({ connection }: WriteContext, id: string): Promise<Build> {
  const found = (await recordsReads(connection).listBuilds()).find((build) => build.id === id)
  return found ?? refuse('build/unknown', 'No build of this id is recorded.', id, '`builds list` shows all.')
}

async function refuseUnknownFont({ connection }: WriteContext, fontId: string): Promise<void> {
  const font = await connection.kysely
    .selectFrom('font')
    .select('id')
    .where('id', '=', fontId)
    .executeTakeFirst()
  if (font === undefined) throw unknownFont(fontId)
}

/** @param ownId of the build that is being changed */
async function refuseBadBuild(context: WriteContext, build: NewBuild, ownId: string | null): Promise<void> {
  const taken = await context.connection.kysely
    .selectFrom('build')
    .select('id')
    .where('code_key', '=', nameKey(build.code))
    .executeTakeFirst()
  if (taken !== undefined && taken.id !== ownId) {
    refuse('build/code-taken', 'Another build has this code.', build.code, 'Choose another code.')
  }
  refuseUnknownEditions(context, build.fontEditionIds)
}

function refuseUnknownEditions({ connection }: WriteContext, editionIds: readonly string[]): void {
  const known = connection.prepare('SELECT 1 FROM edition WHERE id = ?').pluck()
  const unknown = editionIds.find((id) => known.get(id) === undefined)
  if (unknown !== undefined) throw unknownFont(unknown)
}

function licenceColumns(context: WriteContext, licence: NewLicence) {
  return {
    font_id: licence.fontId,
    holder_id: holderId(context, licence.holder),
    kind: licence.kind,
    granted_on: licence.grantedOn,
    order_reference: licence.orderReference,
    terms: licence.terms,
    conversion_allowed: licence.conversionAllowed,
  }
}

function buildColumns(context: WriteContext, build: NewBuild) {
  return {
    code: build.code,
    code_key: nameKey(build.code),
    client_id: clientId(context, build.clientLabel),
    board_id: build.boardId,
    speaker: build.speaker,
    speaker_low_limit_hz: build.speakerLowLimitHz,
    config_file_name: build.config?.fileName ?? null,
    config_text: build.config?.text ?? null,
  }
}

async function putFonts(
  { connection }: WriteContext,
  buildId: string,
  editionIds: readonly string[],
): Promise<void> {
  await connection.kysely.deleteFrom('build_font').where('build_id', '=', buildId).execute()
  const put = connection.prepare('INSERT INTO build_font (build_id, position, edition_id) VALUES (?, ?, ?)')
  for (const [position, editionId] of editionIds.entries()) put.run(buildId, position, editionId)
}

async function putRuleChanges(
  { connection }: WriteContext,
  buildId: string,
  changes: Build['ruleChanges'],
): Promise<void> {
  await connection.kysely.deleteFrom('build_rule').where('build_id', '=', buildId).execute()
  const put = connection.prepare(
    'INSERT INTO build_rule (build_id, rule, severity, reason) VALUES (?, ?, ?, ?)',
  )
  for (const { rule, severity, reason } of changes) put.run(buildId, rule, severity, reason)
}

async function putNote(
  { connection }: WriteContext,
  of: 'licence' | 'build',
  id: string,
  text: string,
): Promise<void> {
  connection.prepare(`DELETE FROM ${of}_note WHERE ${of}_id = ?`).run(id)
  if (text !== '') connection.prepare(`INSERT INTO ${of}_note (${of}_id, text) VALUES (?, ?)`).run(id, text)
}

/** Fields that are really given: one that is `undefined` changes nothing. */
function told<T extends object>(change: T): T {
  return Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined)) as T
}

/** For the journal: which fields, never their values. */
function changed(change: object): string {
  return `changed ${Object.keys(told(change)).sort().join(', ')}`
}

function refuse(code: string, what: string, where: string, mend: string): never {
  throw new AppError({ code, what, where, mend })
}
