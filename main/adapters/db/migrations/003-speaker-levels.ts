import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/** Loudness as a speaker with a low limit gives it: by what is played, whatever wraps it, and by the limit. */
export const speakerLevels: Migration = {
  up: (db) =>
    runStatements(db, [
      `CREATE TABLE speaker_level (
        sound_key TEXT NOT NULL,
        low_limit_hz REAL NOT NULL,
        integrated_lufs REAL,
        momentary_max_lufs REAL,
        PRIMARY KEY (low_limit_hz, sound_key)
      ) STRICT, WITHOUT ROWID`,
    ]),
}
