import type { Migration } from 'kysely/migration'
import { runStatements } from './run-statements.ts'

/**
 * The first schema. Three habits run through it:
 * what is known of bytes is kept by their SHA-256, apart from the sounds and files that have them;
 * names, contacts and notes about people stand in tables of their own, referenced by id;
 * the journal holds ids only.
 */
export const firstWorkshop: Migration = {
  up: (db) =>
    runStatements(db, [
      // --- People: everything that would have to go if someone asked to be forgotten.
      `CREATE TABLE creator (
        id TEXT NOT NULL PRIMARY KEY,
        name TEXT NOT NULL,
        name_key TEXT NOT NULL,
        contact TEXT NOT NULL,
        note TEXT NOT NULL
      ) STRICT`,
      `CREATE INDEX creator_by_name ON creator (name_key)`,
      `CREATE TABLE proposed_creator (
        id TEXT NOT NULL PRIMARY KEY,
        name TEXT NOT NULL,
        name_key TEXT NOT NULL UNIQUE
      ) STRICT`,
      `CREATE TABLE holder (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT`,
      `CREATE TABLE client (id TEXT NOT NULL PRIMARY KEY, label TEXT NOT NULL UNIQUE) STRICT`,
      `CREATE TABLE actor (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT`,

      // --- What reading a run of bytes once has told.
      `CREATE TABLE inspection (
        sha256 TEXT NOT NULL PRIMARY KEY,
        size_bytes INTEGER NOT NULL,
        sample_hash TEXT,
        container TEXT,
        coding TEXT,
        sample_rate_hz REAL,
        bit_depth INTEGER,
        channels INTEGER,
        seconds REAL,
        integrated_lufs REAL,
        facts TEXT CHECK (facts IS NULL OR json_valid(facts)),
        measures TEXT CHECK (measures IS NULL OR json_valid(measures)),
        problem_code TEXT,
        problem_message TEXT
      ) STRICT`,
      `CREATE INDEX inspection_by_sample_hash ON inspection (sample_hash) WHERE sample_hash IS NOT NULL`,
      `CREATE TABLE peaks_place (
        sha256 TEXT NOT NULL PRIMARY KEY,
        pack TEXT NOT NULL,
        offset_bytes INTEGER NOT NULL,
        length_bytes INTEGER NOT NULL
      ) STRICT`,

      // --- Roots, and the files that their last scans saw.
      `CREATE TABLE root (
        id TEXT NOT NULL PRIMARY KEY,
        path TEXT NOT NULL UNIQUE,
        kind TEXT NOT NULL CHECK (kind IN ('folder', 'archive')),
        added_at TEXT NOT NULL,
        last_scan_at TEXT,
        removed_at TEXT,
        tree_digest TEXT
      ) STRICT`,
      `CREATE TABLE known_file (
        root_id TEXT NOT NULL REFERENCES root (id),
        path TEXT NOT NULL,
        size_bytes INTEGER NOT NULL,
        modified_ns TEXT NOT NULL,
        file_key TEXT NOT NULL,
        sha256 TEXT,
        PRIMARY KEY (root_id, path)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX known_file_by_sha256 ON known_file (sha256) WHERE sha256 IS NOT NULL`,
      `CREATE TABLE scan_problem (
        root_id TEXT NOT NULL REFERENCES root (id),
        position INTEGER NOT NULL,
        path TEXT NOT NULL,
        code TEXT NOT NULL,
        message TEXT NOT NULL,
        severity TEXT NOT NULL CHECK (severity IN ('fault', 'note')),
        PRIMARY KEY (root_id, position)
      ) STRICT, WITHOUT ROWID`,

      // --- Fonts, their editions, and where those lie.
      `CREATE TABLE font (
        id TEXT NOT NULL PRIMARY KEY,
        name TEXT NOT NULL,
        name_key TEXT NOT NULL,
        name_is_set INTEGER NOT NULL DEFAULT 0 CHECK (name_is_set IN (0, 1)),
        creator_id TEXT REFERENCES creator (id),
        proposed_creator_id TEXT REFERENCES proposed_creator (id)
      ) STRICT`,
      `CREATE INDEX font_by_name ON font (name_key)`,
      `CREATE TABLE edition (
        id TEXT NOT NULL PRIMARY KEY,
        font_id TEXT NOT NULL REFERENCES font (id),
        version TEXT NOT NULL,
        version_is_set INTEGER NOT NULL DEFAULT 0 CHECK (version_is_set IN (0, 1)),
        state TEXT NOT NULL CHECK (state IN ('present', 'gone')),
        scheme_id TEXT,
        sounds_hash TEXT NOT NULL,
        sound_count INTEGER NOT NULL,
        companion_count INTEGER NOT NULL,
        size_bytes INTEGER NOT NULL,
        litter TEXT NOT NULL CHECK (json_valid(litter)),
        first_seen_at TEXT NOT NULL
      ) STRICT`,
      `CREATE INDEX edition_by_font ON edition (font_id)`,
      `CREATE INDEX edition_by_sounds ON edition (sounds_hash)`,
      `CREATE TABLE place (
        id TEXT NOT NULL PRIMARY KEY,
        edition_id TEXT NOT NULL REFERENCES edition (id),
        root_id TEXT NOT NULL REFERENCES root (id),
        path TEXT NOT NULL,
        inner_path TEXT,
        state TEXT NOT NULL CHECK (state IN ('present', 'gone')),
        sounds_hash TEXT NOT NULL,
        scan_digest TEXT NOT NULL
      ) STRICT`,
      `CREATE UNIQUE INDEX place_once ON place (root_id, path, ifnull(inner_path, ''))`,
      `CREATE INDEX place_by_edition ON place (edition_id)`,
      `CREATE TABLE sound (
        id TEXT NOT NULL PRIMARY KEY,
        edition_id TEXT NOT NULL REFERENCES edition (id),
        path TEXT NOT NULL,
        sha256 TEXT NOT NULL REFERENCES inspection (sha256),
        role TEXT,
        part TEXT,
        layer TEXT,
        number INTEGER,
        role_source TEXT CHECK (role_source IN ('scheme', 'inferred', 'user')),
        UNIQUE (edition_id, path)
      ) STRICT`,
      `CREATE INDEX sound_by_sha256 ON sound (sha256)`,
      `CREATE TABLE companion (
        edition_id TEXT NOT NULL REFERENCES edition (id),
        path TEXT NOT NULL,
        size_bytes INTEGER NOT NULL,
        sha256 TEXT NOT NULL,
        kind TEXT NOT NULL CHECK (kind IN ('text', 'picture', 'document', 'other')),
        PRIMARY KEY (edition_id, path)
      ) STRICT, WITHOUT ROWID`,

      // --- Licences and builds; what may tell of people stands beside them.
      `CREATE TABLE licence (
        id TEXT NOT NULL PRIMARY KEY,
        font_id TEXT NOT NULL REFERENCES font (id),
        holder_id TEXT REFERENCES holder (id),
        kind TEXT NOT NULL,
        granted_on TEXT NOT NULL,
        order_reference TEXT NOT NULL,
        terms TEXT NOT NULL
      ) STRICT`,
      `CREATE INDEX licence_by_font ON licence (font_id)`,
      `CREATE INDEX licence_by_holder ON licence (holder_id)`,
      `CREATE TABLE licence_note (
        licence_id TEXT NOT NULL PRIMARY KEY REFERENCES licence (id) ON DELETE CASCADE,
        text TEXT NOT NULL
      ) STRICT`,
      `CREATE TABLE build (
        id TEXT NOT NULL PRIMARY KEY,
        code TEXT NOT NULL,
        code_key TEXT NOT NULL UNIQUE,
        client_id TEXT REFERENCES client (id),
        board_id TEXT NOT NULL,
        speaker TEXT NOT NULL,
        speaker_low_limit_hz REAL,
        config_file_name TEXT,
        config_text TEXT
      ) STRICT`,
      `CREATE INDEX build_by_client ON build (client_id)`,
      `CREATE TABLE build_note (
        build_id TEXT NOT NULL PRIMARY KEY REFERENCES build (id) ON DELETE CASCADE,
        text TEXT NOT NULL
      ) STRICT`,
      `CREATE TABLE build_font (
        build_id TEXT NOT NULL REFERENCES build (id),
        position INTEGER NOT NULL,
        edition_id TEXT NOT NULL REFERENCES edition (id),
        PRIMARY KEY (build_id, position)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX build_font_by_edition ON build_font (edition_id)`,

      // --- What was made. The record is whole, but for the creators' names.
      `CREATE TABLE content (
        fingerprint TEXT NOT NULL PRIMARY KEY,
        created_at TEXT NOT NULL,
        board_id TEXT NOT NULL,
        board_hash TEXT NOT NULL,
        build_id TEXT REFERENCES build (id),
        image_hash TEXT NOT NULL,
        image_bytes INTEGER NOT NULL,
        tool_version TEXT NOT NULL,
        record TEXT NOT NULL CHECK (json_valid(record))
      ) STRICT`,
      `CREATE INDEX content_by_build ON content (build_id)`,
      `CREATE INDEX content_by_image_hash ON content (image_hash)`,
      `CREATE TABLE content_font (
        fingerprint TEXT NOT NULL REFERENCES content (fingerprint),
        slot INTEGER NOT NULL,
        edition_id TEXT NOT NULL,
        font_id TEXT NOT NULL,
        PRIMARY KEY (fingerprint, slot)
      ) STRICT, WITHOUT ROWID`,
      `CREATE INDEX content_font_by_edition ON content_font (edition_id)`,
      `CREATE INDEX content_font_by_font ON content_font (font_id)`,
      `CREATE TABLE content_credit (
        fingerprint TEXT NOT NULL REFERENCES content (fingerprint),
        slot INTEGER NOT NULL,
        creator_name TEXT NOT NULL,
        PRIMARY KEY (fingerprint, slot)
      ) STRICT, WITHOUT ROWID`,
      `CREATE TABLE board_text (
        hash TEXT NOT NULL PRIMARY KEY,
        board_id TEXT NOT NULL,
        kept_at TEXT NOT NULL,
        text TEXT NOT NULL
      ) STRICT`,

      `CREATE TABLE setting (key TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID`,

      // A counted key: the journal's order is the order of writing, whatever the clocks said.
      `CREATE TABLE journal (
        position INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        at TEXT NOT NULL,
        actor_id TEXT NOT NULL REFERENCES actor (id),
        what TEXT NOT NULL,
        entity TEXT NOT NULL,
        entity_id TEXT NOT NULL
      ) STRICT`,
      `CREATE INDEX journal_by_entity ON journal (entity, entity_id)`,
    ]),
}
