import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/** Prepared sounds: what was found out, what was made by which recipe, and what the user wants otherwise. */
export const preparing: Migration = {
  up: (db) =>
    runStatements(db, [
      `CREATE TABLE sound_answer (
        key TEXT NOT NULL PRIMARY KEY,
        answers TEXT NOT NULL CHECK (json_valid(answers))
      ) STRICT, WITHOUT ROWID`,
      `CREATE TABLE preparation (
        original_sha256 TEXT NOT NULL,
        recipe_key TEXT NOT NULL,
        tools TEXT NOT NULL,
        prepared_sha256 TEXT NOT NULL,
        outcome TEXT NOT NULL CHECK (json_valid(outcome)),
        made_at TEXT NOT NULL,
        PRIMARY KEY (original_sha256, recipe_key, tools)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX preparation_by_output ON preparation (prepared_sha256)`,
      `CREATE TABLE prepared_sound (
        edition_id TEXT NOT NULL REFERENCES edition (id),
        path TEXT NOT NULL,
        board_hash TEXT NOT NULL,
        original_sha256 TEXT NOT NULL,
        prepared_sha256 TEXT NOT NULL,
        recipe TEXT NOT NULL CHECK (json_valid(recipe)),
        prepared_at TEXT NOT NULL,
        PRIMARY KEY (edition_id, path, board_hash)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX prepared_sound_by_output ON prepared_sound (prepared_sha256, board_hash)`,
      `CREATE TABLE recipe_choice (
        edition_id TEXT NOT NULL REFERENCES edition (id),
        board_id TEXT NOT NULL,
        role TEXT NOT NULL,
        path TEXT NOT NULL,
        step TEXT NOT NULL,
        value REAL,
        PRIMARY KEY (edition_id, board_id, role, path, step)
      ) STRICT, WITHOUT ROWID`,
    ]),
}
