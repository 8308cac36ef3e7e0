import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/** Rules that a build switches off or weighs anew. A reason may tell of people: it stands by its build. */
export const rulesOfABuild: Migration = {
  up: (db) =>
    runStatements(db, [
      `CREATE TABLE build_rule (
        build_id TEXT NOT NULL REFERENCES build (id) ON DELETE CASCADE,
        rule TEXT NOT NULL,
        severity TEXT NOT NULL CHECK (severity IN ('error', 'warning', 'note', 'off')),
        reason TEXT NOT NULL,
        PRIMARY KEY (build_id, rule)
      ) STRICT, WITHOUT ROWID`,
    ]),
}
