import type { Coding, Container } from '../../../app/model/audio-facts.ts'
import type { Weight } from '../../../app/model/finding.ts'
import type { ConversionAllowed, LicenceKind } from '../../../app/model/records.ts'
import type { RecipeStepName } from '../../../app/model/recipe.ts'
import type { Layer, Part, Role, RoleSource } from '../../../app/model/role.ts'
import type { SingleSound } from '../../../app/model/single-sound.ts'
import type { Companion } from '../../../app/model/sound.ts'
import type { ColumnType, Generated } from 'kysely'

/**
 * The schema as Kysely sees it; the migrations are what makes it. Times are ISO 8601 UTC, keys
 * UUIDs of version 7, `*_key` a name folded for comparing, JSON columns text.
 */
export interface Tables {
  creator: { id: string; name: string; name_key: string; contact: string; note: string }
  proposed_creator: { id: string; name: string; name_key: string }
  holder: { id: string; name: string }
  client: { id: string; label: string }
  actor: { id: string; name: string }
  inspection: InspectionRow
  peaks_place: { sha256: string; pack: string; offset_bytes: number; length_bytes: number }
  root: {
    id: string
    path: string
    kind: 'folder' | 'archive'
    added_at: string
    last_scan_at: string | null
    /** Set where the user took the root out; the places of its editions still refer to it. */
    removed_at: string | null
    /** How its tree looked to the last scan; null where the next one must look at everything. */
    tree_digest: string | null
  }
  known_file: {
    root_id: string
    path: string
    size_bytes: number
    modified_ns: string
    file_key: string
    sha256: string | null
  }
  scan_problem: {
    root_id: string
    position: number
    path: string
    code: string
    message: string
    severity: 'fault' | 'note'
  }
  font: {
    id: string
    name: string
    name_key: string
    name_is_set: Generated<number>
    creator_id: string | null
    proposed_creator_id: string | null
  }
  edition: EditionRow
  place: PlaceRow
  sound: SoundRow
  companion: {
    edition_id: string
    path: string
    size_bytes: number
    sha256: string
    kind: Companion['kind']
  }
  licence: {
    id: string
    font_id: string
    holder_id: string | null
    kind: LicenceKind
    granted_on: string
    order_reference: string
    terms: string
    conversion_allowed: ConversionAllowed
  }
  licence_note: { licence_id: string; text: string }
  build: {
    id: string
    code: string
    code_key: string
    client_id: string | null
    board_id: string
    speaker: string
    speaker_low_limit_hz: number | null
    config_file_name: string | null
    config_text: string | null
  }
  build_note: { build_id: string; text: string }
  build_rule: { build_id: string; rule: string; severity: Weight; reason: string }
  build_font: { build_id: string; position: number; edition_id: string }
  build_sound: {
    build_id: string
    position: number
    kind: SingleSound['kind']
    edition_id: string
    path: string | null
    from_edition_id: string | null
    from_path: string | null
    /** A `SoundPlace` as JSON; null where it stays what it is for. */
    place: string | null
  }
  build_config: { build_id: string; number: number; file_name: string; text: string; recorded_at: string }
  kept_original: {
    edition_id: string
    path: string
    sha256: string
    size_bytes: number
    kept_at: string
  }
  content: {
    fingerprint: string
    created_at: string
    board_id: string
    board_hash: string
    build_id: string | null
    image_hash: string
    image_bytes: number
    tool_version: string
    /** The whole record as JSON, without the creators' names. */
    record: string
  }
  content_font: { fingerprint: string; slot: number; edition_id: string; font_id: string }
  content_credit: { fingerprint: string; slot: number; creator_name: string }
  /** Everything that a content is made of: its files, and originals of what was prepared for it. */
  content_bytes: { fingerprint: string; sha256: string }
  /** Editions that its files come from. */
  content_source: { fingerprint: string; edition_id: string }
  board_text: { hash: string; board_id: string; kept_at: string; text: string }
  sound_answer: { key: string; answers: string }
  preparation: {
    original_sha256: string
    recipe_key: string
    tools: string
    prepared_sha256: string
    outcome: string
    made_at: string
  }
  prepared_sound: {
    edition_id: string
    path: string
    board_hash: string
    original_sha256: string
    prepared_sha256: string
    recipe: string
    prepared_at: string
  }
  /** Empty role and path stand for the whole font. */
  recipe_choice: {
    edition_id: string
    board_id: string
    role: Role | ''
    path: string
    step: RecipeStepName
    value: number | null
  }
  speaker_level: {
    /** Sample hash; the hash of the bytes where samples identify nothing. */
    sound_key: string
    low_limit_hz: number
    integrated_lufs: number | null
    momentary_max_lufs: number | null
  }
  setting: { key: string; value: string }
  journal: {
    position: ColumnType<number, never, never>
    at: string
    actor_id: string
    what: string
    entity: string
    entity_id: string
  }
}

export interface InspectionRow {
  sha256: string
  size_bytes: number
  sample_hash: string | null
  container: Container | null
  coding: Coding | null
  sample_rate_hz: number | null
  bit_depth: number | null
  channels: number | null
  seconds: number | null
  integrated_lufs: number | null
  facts: string | null
  measures: string | null
  problem_code: string | null
  problem_message: string | null
}

export interface EditionRow {
  id: string
  font_id: string
  version: string
  version_is_set: Generated<number>
  state: 'present' | 'gone'
  scheme_id: string | null
  /** SHA-256 over the sorted hashes of its sounds: what the edition is known by. */
  sounds_hash: string
  sound_count: number
  companion_count: number
  size_bytes: number
  litter: string
  first_seen_at: string
}

export interface PlaceRow {
  id: string
  edition_id: string
  root_id: string
  path: string
  inner_path: string | null
  state: 'present' | 'gone'
  /** What the last scan saw here; differs from the edition's where a scan is under way. */
  sounds_hash: string
  /** SHA-256 over all that the last scan told of this place. */
  scan_digest: string
}

export interface SoundRow {
  id: string
  edition_id: string
  path: string
  sha256: string
  role: Role | null
  part: Part | null
  layer: Layer | null
  number: number | null
  role_source: RoleSource | null
}
