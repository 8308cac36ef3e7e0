import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/**
 * Single sounds of builds, the versions of their configs, which originals the store keeps, and which
 * bytes and editions a content needs. What is on record already is taken over.
 */
export const singleSoundsAndKeptOriginals: Migration = {
  up: (db) =>
    runStatements(db, [
      `CREATE TABLE build_sound (
        build_id TEXT NOT NULL REFERENCES build (id) ON DELETE CASCADE,
        position INTEGER NOT NULL,
        kind TEXT NOT NULL CHECK (kind IN ('added', 'replaced', 'left-out')),
        edition_id TEXT NOT NULL REFERENCES edition (id),
        path TEXT CHECK ((path IS NULL) = (kind = 'added')),
        from_edition_id TEXT REFERENCES edition (id),
        from_path TEXT CHECK ((from_path IS NULL) = (kind = 'left-out')),
        place TEXT CHECK (place IS NULL OR json_valid(place)),
        PRIMARY KEY (build_id, position)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX build_sound_by_edition ON build_sound (edition_id)`,
      `CREATE INDEX build_sound_by_source ON build_sound (from_edition_id)`,

      `CREATE TABLE build_config (
        build_id TEXT NOT NULL REFERENCES build (id) ON DELETE CASCADE,
        number INTEGER NOT NULL,
        file_name TEXT NOT NULL,
        text TEXT NOT NULL,
        recorded_at TEXT NOT NULL,
        PRIMARY KEY (build_id, number)
      ) STRICT, WITHOUT ROWID`,
      `INSERT INTO build_config (build_id, number, file_name, text, recorded_at)
       SELECT id, 1, config_file_name, ifnull(config_text, ''),
         ifnull((SELECT max(at) FROM journal WHERE entity = 'build' AND entity_id = build.id), '')
       FROM build WHERE config_file_name IS NOT NULL`,

      `CREATE TABLE kept_original (
        edition_id TEXT NOT NULL REFERENCES edition (id),
        path TEXT NOT NULL,
        sha256 TEXT NOT NULL,
        size_bytes INTEGER NOT NULL,
        kept_at TEXT NOT NULL,
        PRIMARY KEY (edition_id, path, sha256)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX kept_original_by_sha256 ON kept_original (sha256)`,

      `CREATE TABLE content_bytes (
        fingerprint TEXT NOT NULL REFERENCES content (fingerprint),
        sha256 TEXT NOT NULL,
        PRIMARY KEY (fingerprint, sha256)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX content_bytes_by_sha256 ON content_bytes (sha256)`,
      `INSERT INTO content_bytes (fingerprint, sha256)
       SELECT DISTINCT fingerprint, json_extract(file.value, '$.sha256')
       FROM content, json_each(content.record, '$.files') AS file`,
      `CREATE TABLE content_source (
        fingerprint TEXT NOT NULL REFERENCES content (fingerprint),
        edition_id TEXT NOT NULL,
        PRIMARY KEY (fingerprint, edition_id)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX content_source_by_edition ON content_source (edition_id)`,
      `INSERT INTO content_source (fingerprint, edition_id)
       SELECT DISTINCT fingerprint, edition_id FROM content_font
       UNION
       SELECT DISTINCT fingerprint, json_extract(file.value, '$.origin.editionId')
       FROM content, json_each(content.record, '$.files') AS file
       WHERE json_extract(file.value, '$.origin.editionId') IS NOT NULL`,
    ]),
}
