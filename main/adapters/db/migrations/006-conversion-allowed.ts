import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/** Whether a licence allows conversion. Of those on record already nobody has said: it is unknown. */
export const conversionAllowed: Migration = {
  up: (db) =>
    runStatements(db, [
      `ALTER TABLE licence ADD COLUMN conversion_allowed TEXT NOT NULL DEFAULT 'unknown'
        CHECK (conversion_allowed IN ('yes', 'no', 'unknown'))`,
    ]),
}
