import { AppError } from '../errors/app-error.ts'
import type { Build, NewBuild } from '../model/records.ts'
import type { LibraryReader } from '../ports/library-records.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import { keptRuleChanges } from './rule-changes.ts'

/** What a build is checked against besides the database. */
export interface KnownBoards {
  /** @throws AppError `board/unknown` */
  refuseUnknownBoard(boardId: string): Promise<void>
}

/** @throws AppError `board/unknown`, `font/unknown`, `build/font-twice`, `build/code-taken`; those of `keptRuleChanges` */
export async function addBuild(
  database: WorkshopDatabase,
  boards: KnownBoards,
  build: NewBuild,
): Promise<Build> {
  await boards.refuseUnknownBoard(build.boardId)
  const ruleChanges = keptRuleChanges(build.ruleChanges)
  return database.inTransaction(async ({ library, records }) => {
    await refuseBadFonts(library, build.fontEditionIds)
    return records.addBuild({ ...build, ruleChanges })
  })
}

/** @throws AppError `build/unknown` and those of `addBuild` */
export async function changeBuild(
  database: WorkshopDatabase,
  boards: KnownBoards,
  id: string,
  change: Partial<NewBuild>,
): Promise<Build> {
  if (change.boardId !== undefined) await boards.refuseUnknownBoard(change.boardId)
  const rules = change.ruleChanges === undefined ? {} : { ruleChanges: keptRuleChanges(change.ruleChanges) }
  return database.inTransaction(async ({ library, records }) => {
    if (change.fontEditionIds !== undefined) await refuseBadFonts(library, change.fontEditionIds)
    return records.changeBuild(id, { ...change, ...rules })
  })
}

async function refuseBadFonts(library: LibraryReader, editionIds: readonly string[]): Promise<void> {
  const known = new Map((await library.listEditions()).map((edition) => [edition.id, edition.font.name]))
  const seen = new Set<string>()
  for (const id of editionIds) {
    const name = known.get(id)
    if (name === undefined) {
      throw new AppError({
        code: 'font/unknown',
        what: 'The library has no font of this id.',
        where: id,
        mend: '`fonts list` shows all fonts.',
      })
    }
    if (seen.has(id)) {
      throw new AppError({
        code: 'build/font-twice',
        what: 'The font stands twice in the build.',
        where: name,
        mend: 'Name each font once, in the order in which it is to play.',
      })
    }
    seen.add(id)
  }
}
