import type { SoundAnswer } from '../../../app/model/preparation.ts'
import type { Recipe, RecipeOutcome } from '../../../app/model/recipe.ts'
import type { PreparationReader } from '../../../app/ports/preparation-records.ts'
import type { Connection } from './connection.ts'
import { inspectionOf } from './inspection-rows.ts'
import type { InspectionRow } from './tables.ts'

/** Reading what was prepared, on whichever connection is given. */
export function preparationReads(connection: Connection): PreparationReader {
  const { kysely } = connection
  return {
    async findAnswers(keys) {
      const find = connection.prepare('SELECT answers FROM sound_answer WHERE key = ?').pluck()
      return keys.map((key) => parsed<readonly SoundAnswer[]>(find.get(key)))
    },
    async findPreparations(keys) {
      const find = connection.prepare(
        `SELECT prepared_sha256, outcome FROM preparation
         WHERE original_sha256 = ? AND recipe_key = ? AND tools = ?`,
      )
      return keys.map((key) => {
        const row = find.get(key.originalSha256, key.recipeKey, key.tools) as
          { prepared_sha256: string; outcome: string } | undefined
        if (row === undefined) return null
        return {
          ...key,
          preparedSha256: row.prepared_sha256,
          outcome: JSON.parse(row.outcome) as RecipeOutcome,
        }
      })
    },
    async listPreparedSounds(editionIds, boardHash) {
      if (editionIds.length === 0) return []
      const rows = await kysely
        .selectFrom('prepared_sound')
        .select(['edition_id', 'path', 'original_sha256', 'prepared_sha256', 'recipe'])
        .where('board_hash', '=', boardHash)
        .where('edition_id', 'in', editionIds)
        .orderBy('edition_id')
        .orderBy('path')
        .execute()
      return rows.map((row) => ({
        editionId: row.edition_id,
        path: row.path,
        originalSha256: row.original_sha256,
        preparedSha256: row.prepared_sha256,
        recipe: JSON.parse(row.recipe) as Recipe,
      }))
    },
    async findOutputs(sha256s, boardHash) {
      const find = connection
        .prepare(
          `SELECT 1 FROM prepared_sound
           WHERE prepared_sha256 = ? AND board_hash = ? AND original_sha256 <> prepared_sha256`,
        )
        .pluck()
      return sha256s.filter((sha256) => find.get(sha256, boardHash) !== undefined)
    },
    async findInspections(sha256s) {
      const find = connection.prepare('SELECT * FROM inspection WHERE sha256 = ?')
      return sha256s.map((sha256) => {
        const row = find.get(sha256) as InspectionRow | undefined
        return row === undefined ? null : inspectionOf(row)
      })
    },
    async listRecipeChoices(editionIds, boardId) {
      if (editionIds.length === 0) return []
      const rows = await kysely
        .selectFrom('recipe_choice')
        .selectAll()
        .where('board_id', '=', boardId)
        .where('edition_id', 'in', editionIds)
        .orderBy('edition_id')
        .orderBy('role')
        .orderBy('path')
        .orderBy('step')
        .execute()
      return rows.map(({ edition_id, board_id, role, path, step, value }) => ({
        editionId: edition_id,
        boardId: board_id,
        role: role === '' ? null : role,
        path: path === '' ? null : path,
        step,
        value,
      }))
    },
  }
}

function parsed<T>(text: unknown): T | null {
  return typeof text === 'string' ? (JSON.parse(text) as T) : null
}
