import type { ScannedEdition } from '../../../app/ports/library-records.ts'
import { nameKey } from './name-key.ts'
import { proposedCreatorId } from './people.ts'
import type { MovedEdition } from './scan-run.ts'
import type { WriteContext } from './write-context.ts'

type Named = Pick<ScannedEdition, 'fontName' | 'proposedCreatorName'>

/**
 * The font that a new edition belongs to: one of the same name (case aside) by the same creator, as
 * set or as proposed; else a new one.
 */
export function fontOfNewEdition(context: WriteContext, scanned: Named): string {
  const found = findFont(context, scanned)
  if (found !== undefined) return found
  const proposedId = proposedCreatorId(context, scanned.proposedCreatorName)
  const id = context.newId()
  context.connection
    .prepare('INSERT INTO font (id, name, name_key, proposed_creator_id) VALUES (?, ?, ?, ?)')
    .run(id, scanned.fontName, nameKey(scanned.fontName), proposedId)
  context.journal('added', 'font', id)
  return id
}

/** The font seen first, where several would do. */
function findFont(
  { connection }: WriteContext,
  { fontName, proposedCreatorName }: Named,
): string | undefined {
  const creatorKey = proposedCreatorName === null ? '' : nameKey(proposedCreatorName)
  return connection
    .prepare(
      `SELECT font.id FROM font
       LEFT JOIN creator ON creator.id = font.creator_id
       LEFT JOIN proposed_creator ON proposed_creator.id = font.proposed_creator_id
       WHERE font.name_key = @name
         AND (creator.name_key = @creator OR proposed_creator.name_key = @creator
           OR (@creator = '' AND creator.id IS NULL AND proposed_creator.id IS NULL))
       ORDER BY font.rowid LIMIT 1`,
    )
    .pluck()
    .get({ name: nameKey(fontName), creator: creatorKey }) as string | undefined
}

/**
 * An edition whose only place has moved is called by its new names, unless the user set them. The
 * font stays the same one, and is renamed only where no other edition and no other font speaks against.
 */
export function followMovedNames(context: WriteContext, moved: MovedEdition): void {
  const { connection } = context
  const { editionId, fontName, version, proposedCreatorName } = moved
  const edition = connection
    .prepare(
      `SELECT font_id AS fontId, name_is_set AS nameIsSet,
         (SELECT count(*) FROM place WHERE edition_id = edition.id AND place.state = 'present') AS placeCount,
         (SELECT count(*) FROM edition AS other WHERE other.font_id = edition.font_id) AS editionCount
       FROM edition JOIN font ON font.id = font_id WHERE edition.id = ?`,
    )
    .get(editionId) as { fontId: string; nameIsSet: number; placeCount: number; editionCount: number }
  if (edition.placeCount !== 1) return
  connection
    .prepare('UPDATE edition SET version = ? WHERE id = ? AND version_is_set = 0')
    .run(version, editionId)
  if (edition.nameIsSet === 1 || edition.editionCount !== 1) return
  const other = findFont(context, { fontName, proposedCreatorName })
  if (other !== undefined && other !== edition.fontId) return
  connection
    .prepare('UPDATE font SET name = ?, name_key = ?, proposed_creator_id = ? WHERE id = ?')
    .run(fontName, nameKey(fontName), proposedCreatorId(context, proposedCreatorName), edition.fontId)
}
