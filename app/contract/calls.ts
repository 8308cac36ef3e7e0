import { z } from 'zod'
import { boardCalls } from './board-calls.ts'
import { cardCallsWith } from './card-calls.ts'
import { prepareCallsWith } from './prepare-calls.ts'
import { keptNow, recordCalls } from './record-calls.ts'
import * as shapes from './shapes.ts'
import { targetCallsWith } from './target-calls.ts'
import { id, bytes } from './shapes.ts'

/** Which fonts an act is about: named ones for a board, or those of a build. */
const selection = z.strictObject({
  boardId: id.optional(),
  editionIds: z.array(id).max(1000).readonly().optional(),
  buildCode: z.string().optional(),
})

const path = z.string().min(1).max(32_768)

export const checkedFont = z.strictObject({
  editionId: id,
  font: z.string(),
  version: z.string(),
  verdict: shapes.verdict,
  findings: z.array(shapes.finding).readonly(),
})

export const fontCost = z.strictObject({
  editionId: id,
  /** Its number as the board counts. */
  slot: z.int(),
  font: z.string(),
  folder: z.string(),
  files: z.int(),
  contentBytes: bytes,
  slackBytes: bytes,
  directoryBytes: bytes,
  /** contentBytes + slackBytes + directoryBytes: what leaving the font out would free. */
  usedBytes: bytes,
})

export const wayToFit = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('prepare'), sounds: z.int(), freesBytes: bytes }),
  z.strictObject({
    kind: z.literal('shorter-music'),
    longestSeconds: z.int(),
    sounds: z.int(),
    freesBytes: bytes,
  }),
  z.strictObject({ kind: z.literal('cluster-size'), clusterBytes: bytes, freesBytes: bytes }),
  z.strictObject({
    kind: z.literal('leave-out'),
    fonts: z.array(z.string()).readonly(),
    freesBytes: bytes,
  }),
  z.strictObject({ kind: z.literal('larger-card'), imageBytes: bytes }),
])

const openCost = z.strictObject({
  path: z.string(),
  /** Sectors of directories and FATs that a reader without a memory reads to open it. */
  sectors: z.int(),
  /** The same, were the folders in the order of their names. */
  sectorsByName: z.int(),
})

/** What opening costs in the folder with the longest directory. */
export const readCost = z.strictObject({
  folder: z.string(),
  first: openCost,
  last: openCost,
  /** Most that the board stands, where its file tells. */
  limitSectors: z.int().nullable(),
  isWithinLimit: z.boolean(),
})

export const sizeReport = z.strictObject({
  board: id,
  fileSystem: z.enum(['fat16', 'fat32']),
  clusterBytes: bytes,
  /** Size of the card or image that was asked for; null where the content decides. */
  cardBytes: bytes.nullable(),
  /** Size of the image that `make` would write. */
  imageBytes: bytes,
  /** Bytes of clusters in use, the root directory's among them. */
  usedBytes: bytes,
  freeBytes: bytes,
  contentBytes: bytes,
  slackBytes: bytes,
  fits: z.boolean(),
  /** How many bytes of clusters are missing where it does not fit. */
  missingBytes: bytes,
  /** Each would make it fit by itself; empty where it does. What costs no font comes first. */
  waysToFit: z.array(wayToFit).readonly(),
  /** Null where no sound lies on the card. */
  readCost: readCost.nullable(),
  fonts: z.array(fontCost).readonly(),
})

export const verifyReport = z.strictObject({
  target: z.string(),
  fingerprint: z.string().nullable(),
  verified: z.boolean(),
  filesChecked: z.int(),
  bytesChecked: bytes,
  missing: z.array(z.string()).readonly(),
  changed: z.array(z.string()).readonly(),
  added: z.array(z.string()).readonly(),
  /** Faults of the file system itself, each in one sentence. */
  faults: z.array(z.string()).readonly(),
  /** What is to be known and is no fault, each in one sentence: what operating systems left there. */
  notes: z.array(z.string()).readonly(),
})

export const makeReport = z.strictObject({
  fingerprint: z.string(),
  imagePath: z.string(),
  imageBytes: bytes,
  imageHash: z.string(),
  board: id,
  build: z.string().nullable(),
  size: sizeReport,
  fonts: z
    .array(z.strictObject({ slot: z.int(), folder: z.string(), font: z.string(), version: z.string() }))
    .readonly(),
  /** Fonts without a licence on record: made all the same, and told. */
  withoutLicence: z.array(z.string()).readonly(),
  /** What a person should know of what was prepared on the way, as `prepare` tells it. */
  cautions: z.array(z.string()).readonly(),
  /** Originals that entered the store for it: fonts that no record had named before. */
  kept: keptNow,
  verify: verifyReport,
  verified: z.boolean(),
})

export const scanReport = z.strictObject({
  roots: z
    .array(
      z.strictObject({
        path: z.string(),
        editions: z.int(),
        sounds: z.int(),
        added: z.int(),
        changed: z.int(),
        unchanged: z.int(),
        relinked: z.int(),
        gone: z.int(),
        filesRead: z.int(),
        bytesRead: bytes,
        problems: z.array(shapes.scanProblem).readonly(),
      }),
    )
    .readonly(),
  seconds: z.number(),
})

export const fontRow = z.strictObject({
  ...shapes.editionSummary.shape,
  /** Null where no board was named. */
  verdict: shapes.verdict.nullable(),
  /** Of its prepared copies, which a card gets in its place; null where there are none for the board. */
  preparedVerdict: shapes.verdict.nullable(),
  licenceCount: z.int(),
})

/** Sounds of equal samples, whatever their names, headers and tags. */
export const duplicateGroup = z.strictObject({
  sampleHash: z.string(),
  seconds: z.number().nullable(),
  sounds: z
    .array(
      z.strictObject({
        soundId: id,
        editionId: id,
        font: z.string(),
        version: z.string(),
        path: z.string(),
        sizeBytes: bytes,
      }),
    )
    .readonly(),
})

/** What the demo's run in view came to; also the last lines of `npm start`. */
export const demoReport = z.strictObject({
  fonts: z.array(checkedFont).readonly(),
  make: makeReport,
  /** Fonts that are not on the card, each with what it waits for. */
  waiting: z
    .array(z.strictObject({ font: z.string(), verdict: z.string(), reasons: z.array(z.string()).readonly() }))
    .readonly(),
})

/**
 * Every call between a door and the core, with what goes in and what comes out. `long` calls send
 * progress and can be cancelled. All three doors use these; the command line's JSON documents are
 * the responses, and their schemas stand in resources/schemas/documents/.
 */
export const calls = {
  'workshop:status': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({
      path: z.string(),
      version: z.string(),
      who: z.string(),
      isDemo: z.boolean(),
      fontCount: z.int(),
      soundCount: z.int(),
      defaultBoardId: z.string(),
      imagesFolder: z.string(),
      /** Lowest frequency of the speaker that is usual in this workshop, in Hz; null where nobody told. */
      speakerLowLimitHz: z.number().nullable(),
    }),
  },
  'workshop:change': {
    long: false,
    request: z.strictObject({
      /** Who stands in the journal from the next opening on; empty for the account's name. */
      who: z.string().trim().max(100).optional(),
      speakerLowLimitHz: shapes.speakerLowLimitHz.nullable().optional(),
    }),
    response: z.strictObject({ who: z.string(), speakerLowLimitHz: z.number().nullable() }),
  },
  'demo:prepare': { long: true, request: z.strictObject({}), response: demoReport },
  'roots:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({
      roots: z.array(shapes.scanRoot).readonly(),
      problems: z.array(z.strictObject({ ...shapes.scanProblem.shape, rootId: id })).readonly(),
    }),
  },
  'roots:remove': {
    long: false,
    request: z.strictObject({ rootId: id }),
    response: z.strictObject({ removed: shapes.scanRoot }),
  },
  scan: {
    long: true,
    request: z.strictObject({
      paths: z.array(path).min(1).max(200).readonly(),
      /** Archive path to password; used for this scan, never stored. */
      passwords: z.record(z.string(), z.string()).optional(),
    }),
    response: scanReport,
  },
  'fonts:list': {
    long: false,
    request: z.strictObject({ boardId: id.optional() }),
    response: z.strictObject({ board: id.nullable(), fonts: z.array(fontRow).readonly() }),
  },
  'fonts:show': {
    long: false,
    request: z.strictObject({ editionId: id, boardId: id.optional() }),
    response: z.strictObject({
      edition: shapes.edition,
      board: id.nullable(),
      verdict: shapes.verdict.nullable(),
      /** Of its prepared copies, which a card gets in its place; null where there are none for the board. */
      preparedVerdict: shapes.verdict.nullable(),
      findings: z.array(shapes.finding).readonly(),
      licences: z.array(shapes.licence).readonly(),
    }),
  },
  'sounds:waveform': {
    long: false,
    request: z.strictObject({
      soundId: id,
      /** Draws what was prepared of it for this board. */
      preparedForBoardId: id.optional(),
    }),
    response: z.strictObject({
      /** Lowest and highest sample of each stretch, -127 to 127, all channels together. */
      waveform: z
        .strictObject({
          frames: z.int(),
          framesPerBin: z.int(),
          lowest: z.array(z.int()).max(4096).readonly(),
          highest: z.array(z.int()).max(4096).readonly(),
        })
        .nullable(),
    }),
  },
  'fonts:duplicates': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({ groups: z.array(duplicateGroup).readonly() }),
  },
  'fonts:set': {
    long: false,
    request: z.strictObject({
      editionId: id,
      name: z.string().trim().min(1).max(200).optional(),
      version: z.string().max(60).optional(),
      creatorId: id.nullable().optional(),
    }),
    response: z.strictObject({ edition: shapes.editionSummary }),
  },
  'boards:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({
      boards: z.array(shapes.boardSummary).readonly(),
      /** Board files of the workshop that cannot be used, each in one sentence. */
      problems: z.array(z.string()).readonly(),
    }),
  },
  /** A board by its id, or as it was: by its hash (eight characters suffice) or a card's fingerprint. */
  'boards:show': {
    long: false,
    request: z.strictObject({ boardId: id }),
    response: z.strictObject({ board: shapes.boardSummary, text: z.string() }),
  },
  ...boardCalls,
  check: {
    long: true,
    request: z.strictObject({
      ...selection.shape,
      /** Judges fonts as they would go on a card: with the sounds that were prepared for the board. */
      asPrepared: z.boolean().optional(),
    }),
    response: z.strictObject({
      board: id,
      boardTitle: z.string(),
      fonts: z.array(checkedFont).readonly(),
      cardFindings: z.array(shapes.finding).readonly(),
    }),
  },
  size: {
    long: false,
    request: z.strictObject({ ...selection.shape, cardBytes: bytes.optional() }),
    response: sizeReport,
  },
  make: {
    long: true,
    request: z.strictObject({
      ...selection.shape,
      cardBytes: bytes.optional(),
      /** Where the image goes; a bare file name lies in the workshop's images folder. */
      imagePath: path,
      /** Says that an existing file of that name may be replaced. */
      replace: z.boolean().optional(),
      /** Prepares the fonts first, as `prepare` does. */
      prepare: z.boolean().optional(),
      accept: z
        .array(z.strictObject({ rule: z.string(), path: z.string().nullable(), reason: z.string().min(1) }))
        .readonly()
        .optional(),
    }),
    response: makeReport,
  },
  ...prepareCallsWith(selection),
  verify: {
    long: true,
    request: z.strictObject({ target: path, against: z.string().optional() }),
    response: verifyReport,
  },
  'contents:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({
      contents: z
        .array(
          z.strictObject({
            fingerprint: z.string(),
            createdAt: z.string(),
            board: id,
            build: z.string().nullable(),
            /** Every build that it was made for, `build` first. */
            builds: z.array(z.string()).readonly(),
            imageBytes: bytes,
            fonts: z.array(z.string()).readonly(),
          }),
        )
        .readonly(),
    }),
  },
  ...cardCallsWith(verifyReport),
  ...targetCallsWith({ selection, verifyReport, sizeReport, keptNow }),
  'creators:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({ creators: z.array(shapes.creator).readonly() }),
  },
  'creators:add': {
    long: false,
    request: shapes.newCreator,
    response: z.strictObject({ creator: shapes.creator }),
  },
  'creators:change': {
    long: false,
    request: z.strictObject({ id, change: shapes.newCreator.partial() }),
    response: z.strictObject({ creator: shapes.creator }),
  },
  'licences:list': {
    long: false,
    request: z.strictObject({ fontId: id.optional() }),
    response: z.strictObject({ licences: z.array(shapes.licence).readonly() }),
  },
  /** Long, since the font's originals enter the store where it is named for the first time. */
  'licences:add': {
    long: true,
    request: shapes.newLicence,
    response: z.strictObject({ licence: shapes.licence, kept: keptNow }),
  },
  'licences:change': {
    long: true,
    request: z.strictObject({ id, change: shapes.newLicence.partial() }),
    response: z.strictObject({ licence: shapes.licence, kept: keptNow }),
  },
  'licences:remove': {
    long: false,
    request: z.strictObject({ id }),
    response: z.strictObject({ removedId: id }),
  },
  'builds:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({ builds: z.array(shapes.build).readonly() }),
  },
  'builds:add': {
    long: true,
    request: shapes.newBuild,
    response: z.strictObject({ build: shapes.build, kept: keptNow }),
  },
  'builds:change': {
    long: true,
    request: z.strictObject({ id, change: shapes.newBuild.partial() }),
    response: z.strictObject({ build: shapes.build, kept: keptNow }),
  },
  ...recordCalls,
} satisfies Record<string, { long: boolean; request: z.ZodType; response: z.ZodType }>

export type Calls = typeof calls
export type CallName = keyof Calls
export type RequestOf<C extends CallName> = z.input<Calls[C]['request']>
export type ResponseOf<C extends CallName> = z.output<Calls[C]['response']>
export const CALL_NAMES = Object.keys(calls) as CallName[]
