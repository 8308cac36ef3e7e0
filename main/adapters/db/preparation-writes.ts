import type { PreparationWriter } from '../../../app/ports/preparation-records.ts'
import type { WriteContext } from './write-context.ts'

/** Writing what was prepared. Recipes are the user's edits, and journalled; what is computed is not. */
export function preparationWrites(context: WriteContext): PreparationWriter {
  const { connection } = context
  return {
    async keepAnswers(kept) {
      const put = connection.prepare('INSERT OR REPLACE INTO sound_answer (key, answers) VALUES (?, ?)')
      for (const { key, answers } of kept) put.run(key, JSON.stringify(answers))
    },
    async keepPreparations(preparations) {
      const put = connection.prepare(
        `INSERT OR REPLACE INTO preparation
           (original_sha256, recipe_key, tools, prepared_sha256, outcome, made_at) VALUES (?, ?, ?, ?, ?, ?)`,
      )
      for (const { originalSha256, recipeKey, tools, preparedSha256, outcome } of preparations) {
        put.run(originalSha256, recipeKey, tools, preparedSha256, JSON.stringify(outcome), context.at())
      }
    },
    async keepPreparedSounds(boardHash, sounds) {
      const put = connection.prepare(
        `INSERT OR REPLACE INTO prepared_sound
           (edition_id, path, board_hash, original_sha256, prepared_sha256, recipe, prepared_at)
         VALUES (?, ?, ?, ?, ?, ?, ?)`,
      )
      for (const { editionId, path, originalSha256, preparedSha256, recipe } of sounds) {
        put.run(
          editionId,
          path,
          boardHash,
          originalSha256,
          preparedSha256,
          JSON.stringify(recipe),
          context.at(),
        )
      }
    },
    async setRecipeChoice({ editionId, boardId, role, path, step, value }) {
      connection
        .prepare(
          `INSERT OR REPLACE INTO recipe_choice (edition_id, board_id, role, path, step, value)
           VALUES (?, ?, ?, ?, ?, ?)`,
        )
        .run(editionId, boardId, role ?? '', path ?? '', step, value)
      context.journal(value === null ? `dropped step ${step}` : `set step ${step}`, 'edition', editionId)
    },
    async dropRecipeChoice({ editionId, boardId, role, path, step }) {
      const { changes } = connection
        .prepare(
          `DELETE FROM recipe_choice
           WHERE edition_id = ? AND board_id = ? AND role = ? AND path = ? AND step = ?`,
        )
        .run(editionId, boardId, role ?? '', path ?? '', step)
      if (changes > 0) context.journal(`reset step ${step}`, 'edition', editionId)
    },
    async dropRecipeChoices(editionId, boardId) {
      const { changes } = connection
        .prepare('DELETE FROM recipe_choice WHERE edition_id = ? AND board_id = ?')
        .run(editionId, boardId)
      if (changes > 0) context.journal('reset recipes', 'edition', editionId)
    },
  }
}
