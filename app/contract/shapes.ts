import { z } from 'zod'
import { KNOWLEDGE } from '../model/board.ts'
import { SEVERITIES, VERDICTS, WEIGHTS } from '../model/finding.ts'
import { CONVERSION_ANSWERS, LICENCE_KINDS } from '../model/records.ts'
import { LAYERS, PARTS, ROLES } from '../model/role.ts'
import { SPEAKER_LOW_LIMIT_HZ } from '../model/speaker-low-limit.ts'

/** Shapes that several calls share. Each mirrors a type of app/model; the tests hold them together. */

export const id = z.string().min(1).max(100)
export const bytes = z.int().nonnegative()
const measured = z.number().nullable()

export const soundPlace = z.strictObject({
  role: z.enum(ROLES),
  part: z.enum(PARTS),
  layer: z.enum(LAYERS).nullable(),
  number: z.int().nullable(),
})

export const levels = z.strictObject({
  integratedLufs: measured,
  momentaryMaxLufs: measured,
  shortTermMaxLufs: measured,
  rangeLu: measured,
  truePeakDbtp: measured,
  samplePeakDbfs: measured,
  rmsDbfs: measured,
})

export const defect = z.strictObject({ code: z.string(), offset: z.number(), message: z.string() })

export const audioFacts = z.strictObject({
  container: z.enum(['riff', 'rifx', 'rf64', 'bw64', 'other']),
  coding: z.enum(['pcm', 'float', 'alaw', 'mulaw', 'adpcm', 'other']),
  formatTag: z.int().nullable(),
  channels: z.int().nullable(),
  sampleRateHz: z.number().nullable(),
  bitDepth: z.int().nullable(),
  validBits: z.int().nullable(),
  frames: z.int().nullable(),
  seconds: z.number().nullable(),
  chunks: z.array(z.strictObject({ id: z.string(), offset: z.number(), sizeBytes: z.number() })).readonly(),
  loops: z.array(z.strictObject({ start: z.number(), end: z.number() })).readonly(),
  tags: z.record(z.string(), z.string()),
  defects: z.array(defect).readonly(),
})

export const measures = z.strictObject({
  levels,
  dcOffset: measured,
  clippedRuns: measured,
  onsetMs: measured,
  leadingSilenceMs: measured,
  trailingSilenceMs: measured,
  lowShare: measured,
  seam: z.strictObject({ jumpRatio: measured, dipDb: measured }),
  reasons: z.record(z.string(), z.string()),
})

export const soundInspection = z.strictObject({
  sha256: z.string(),
  sizeBytes: bytes,
  sampleHash: z.string().nullable(),
  facts: audioFacts.nullable(),
  measures: measures.nullable(),
  problem: z.strictObject({ code: z.string(), message: z.string() }).nullable(),
})

export const sound = z.strictObject({
  id,
  editionId: id,
  path: z.string(),
  place: soundPlace.nullable(),
  roleSource: z.enum(['scheme', 'inferred', 'user']).nullable(),
  inspection: soundInspection,
})

export const companion = z.strictObject({
  path: z.string(),
  sizeBytes: bytes,
  sha256: z.string(),
  kind: z.enum(['text', 'picture', 'document', 'other']),
})

export const scanRoot = z.strictObject({
  id,
  path: z.string(),
  kind: z.enum(['folder', 'archive']),
  addedAt: z.string(),
  lastScanAt: z.string().nullable(),
})

export const editionPlace = z.strictObject({
  rootId: id,
  path: z.string(),
  innerPath: z.string().nullable(),
  state: z.enum(['present', 'gone']),
})

export const font = z.strictObject({
  id,
  name: z.string(),
  creatorId: id.nullable(),
  creatorName: z.string().nullable(),
  proposedCreatorName: z.string().nullable(),
})

export const editionSummary = z.strictObject({
  id,
  font,
  version: z.string(),
  state: z.enum(['present', 'gone']),
  places: z.array(editionPlace).readonly(),
  schemeId: z.string().nullable(),
  soundCount: z.int(),
  companionCount: z.int(),
  sizeBytes: bytes,
  firstSeenAt: z.string(),
})

export const edition = z.strictObject({
  ...editionSummary.shape,
  sounds: z.array(sound).readonly(),
  companions: z.array(companion).readonly(),
  litter: z.array(z.string()).readonly(),
})

/** What a user is told of a failure; `ErrorReport` without its exit code. */
export const told = z.strictObject({
  code: z.string(),
  what: z.string(),
  where: z.string(),
  mend: z.string(),
  /** How `mend` is done where that takes several steps, in order; of a step's `ways` one is enough. */
  steps: z
    .array(z.strictObject({ step: z.string(), ways: z.array(z.string()).readonly() }))
    .readonly()
    .optional(),
})

export const scanProblem = z.strictObject({
  path: z.string(),
  code: z.string(),
  message: z.string(),
  severity: z.enum(['fault', 'note']),
})

export const finding = z.strictObject({
  rule: z.string(),
  severity: z.enum(SEVERITIES),
  path: z.string().nullable(),
  message: z.string(),
  why: z.string(),
  mend: z.string(),
  fixable: z.boolean(),
  measured: z.union([z.number(), z.string()]).nullable(),
  limit: z.union([z.number(), z.string()]).nullable(),
})

export const verdict = z.strictObject({
  word: z.enum(VERDICTS),
  errorCount: z.int(),
  warningCount: z.int(),
  noteCount: z.int(),
  unknownLimitCount: z.int(),
})

export const boardSummary = z.strictObject({
  id,
  title: z.string(),
  notes: z.string(),
  hash: z.string(),
  /** `kept`: as it was when something was recorded with it. */
  source: z.enum(['shipped', 'workshop', 'kept']),
  known: z.record(z.string(), z.enum(KNOWLEDGE)),
  /** What the board accepts, in words: one sentence a limit. */
  inWords: z
    .array(z.strictObject({ limit: z.string(), words: z.string(), known: z.enum(KNOWLEDGE) }))
    .readonly(),
})

export const creator = z.strictObject({ id, name: z.string(), contact: z.string(), note: z.string() })
export const newCreator = z.strictObject({
  name: z.string().trim().min(1).max(200),
  contact: z.string().max(500),
  note: z.string().max(4000),
})

const day = z.string().regex(/^(\d{4}-\d{2}-\d{2})?$/)
const licenceFields = {
  fontId: id,
  holder: z.string().max(200),
  kind: z.enum(LICENCE_KINDS),
  grantedOn: day,
  orderReference: z.string().max(200),
  terms: z.string().max(4000),
  conversionAllowed: z.enum(CONVERSION_ANSWERS),
  note: z.string().max(4000),
}
export const licence = z.strictObject({ id, fontName: z.string(), ...licenceFields })
/** Left out, `conversionAllowed` is `unknown` for a new licence, and stays what it was for one that is changed. */
export const newLicence = z.strictObject({
  ...licenceFields,
  conversionAllowed: licenceFields.conversionAllowed.optional(),
})

/** A rule that a build switches off or weighs anew; the reason is shown wherever it tells. */
export const ruleChange = z.strictObject({
  rule: z.string().min(1).max(60),
  severity: z.enum(WEIGHTS),
  reason: z.string().trim().min(1).max(500),
})

/** As it is said from now on; records may hold others. */
export const speakerLowLimitHz = z.number().min(SPEAKER_LOW_LIMIT_HZ.least).max(SPEAKER_LOW_LIMIT_HZ.most)

const buildFields = {
  code: z.string().trim().min(1).max(60),
  clientLabel: z.string().max(200),
  boardId: id,
  speaker: z.string().max(200),
  speakerLowLimitHz: z.number().min(20).max(20_000).nullable(),
  fontEditionIds: z.array(id).max(1000).readonly(),
  config: z
    .strictObject({ fileName: z.string().min(1).max(255), text: z.string().max(1_000_000) })
    .nullable(),
  ruleChanges: z.array(ruleChange).max(200).readonly(),
  note: z.string().max(4000),
}
const soundOfEditionFields = { editionId: id, path: z.string().min(1).max(32_768) }
export const soundOfEdition = z.strictObject(soundOfEditionFields)
export const singleSound = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('added'),
    editionId: id,
    sound: soundOfEdition,
    place: soundPlace.nullable(),
  }),
  z.strictObject({ kind: z.literal('replaced'), ...soundOfEditionFields, sound: soundOfEdition }),
  z.strictObject({ kind: z.literal('left-out'), ...soundOfEditionFields }),
])

export const build = z.strictObject({ id, ...buildFields, singleSounds: z.array(singleSound).readonly() })
export const newBuild = z.strictObject({
  ...buildFields,
  speakerLowLimitHz: speakerLowLimitHz.nullable(),
})
