import { z } from 'zod'
import * as shapes from './shapes.ts'
import { bytes, id } from './shapes.ts'

const soundPath = z.string().min(1).max(32_768)

/** Originals that entered the store since a record names their font now for the first time. */
export const keptNow = z.strictObject({
  fonts: z
    .array(z.strictObject({ editionId: id, font: z.string(), version: z.string(), files: z.int(), bytes }))
    .readonly(),
  files: z.int(),
  /** Room that they take. */
  bytes,
  /** Fonts that could not be kept, each in one sentence; the record stands all the same. */
  problems: z.array(z.string()).readonly(),
})

/** What the store holds of one edition, and what needs it. */
export const originalsOfFont = z.strictObject({
  editionId: id,
  font: z.string(),
  version: z.string(),
  /** Of the edition as the last scan saw it. */
  files: z.int(),
  bytes,
  /** Of these, what the store has. */
  keptFiles: z.int(),
  keptBytes: bytes,
  /** Bytes of earlier states of the edition that are kept besides: its folder has changed since. */
  earlierFiles: z.int(),
  earlierBytes: bytes,
  /** Whether its folder or archive is still there. */
  isElsewhere: z.boolean(),
  neededBy: z
    .array(z.strictObject({ kind: z.enum(['licence', 'build', 'content']), name: z.string() }))
    .readonly(),
})

const soundChange = z.discriminatedUnion('act', [
  z.strictObject({
    act: z.literal('add'),
    editionId: id,
    sound: shapes.soundOfEdition,
    /** What it is for there; left out, it stays what it is for where it comes from. */
    place: shapes.soundPlace.optional(),
  }),
  z.strictObject({
    act: z.literal('replace'),
    editionId: id,
    path: soundPath,
    sound: shapes.soundOfEdition,
  }),
  z.strictObject({ act: z.literal('leave-out'), editionId: id, path: soundPath }),
  /** Takes back whatever the build says of the sound: one of the font's own, or one that was added. */
  z.strictObject({ act: z.literal('take-back'), editionId: id, path: soundPath }),
])

/** Single sounds and configs of builds, and originals in the store. */
export const recordCalls = {
  'builds:sounds': {
    long: true,
    request: z.strictObject({ id, change: soundChange }),
    response: z.strictObject({ build: shapes.build, kept: keptNow }),
  },
  'builds:configs': {
    long: false,
    request: z.strictObject({ id }),
    /** Newest first; the last one that was recorded is the build's, unless it has none now. */
    response: z.strictObject({
      build: z.string(),
      versions: z
        .array(
          z.strictObject({
            number: z.int(),
            recordedAt: z.string(),
            fileName: z.string(),
            text: z.string(),
            isCurrent: z.boolean(),
            /** Fingerprints of the contents that carry it. */
            contents: z.array(z.string()).readonly(),
          }),
        )
        .readonly(),
    }),
  },
  'originals:show': {
    long: false,
    request: z.strictObject({ editionId: id }),
    response: originalsOfFont,
  },
  'originals:keep': {
    long: true,
    request: z.strictObject({ editionId: id }),
    response: z.strictObject({ originals: originalsOfFont, kept: keptNow }),
  },
  'originals:release': {
    long: false,
    /** @property onlyCopy says that they may go although no folder or archive has them any more */
    request: z.strictObject({ editionId: id, onlyCopy: z.boolean().optional() }),
    response: z.strictObject({ originals: originalsOfFont, freedFiles: z.int(), freedBytes: bytes }),
  },
} as const
