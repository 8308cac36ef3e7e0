import { z } from 'zod'
import { told } from './shapes.ts'
import { bytes } from './shapes.ts'

const path = z.string().min(1).max(32_768)
/** A fingerprint, or the code of a build: then the newest content made for it. */
const contentName = z.string().min(1).max(200)

/** What a folder lies on, as far as the system tells. */
const volume = {
  /** In words: `FAT32`, `exFAT`, `NTFS`, `ext4`; empty where the system does not tell. */
  fileSystem: z.string(),
  /** Null where the system does not tell. */
  clusterBytes: bytes.nullable(),
  sizeBytes: bytes.nullable(),
  freeBytes: bytes.nullable(),
}

/** A drive that a card may be in: never one that the system or the user's home lies on. */
export const drive = z.strictObject({
  /** Where its files are; null while the system has not mounted it. */
  path: z.string().nullable(),
  label: z.string(),
  device: z.string(),
  model: z.string(),
  /** How it is connected, as the system tells: `usb`, `mmc`; empty where it does not. */
  connection: z.string(),
  ...volume,
  /** The content that its credits name, where they name one. */
  holds: z.string().nullable(),
})

/** What stands for and against writing a card's files to a folder; nothing was written yet. */
export const targetReport = z.strictObject({
  into: z.string(),
  /** `card`: the root of a volume of its own, which a board may read; `folder`: a place on a disk, to be copied from. */
  kind: z.enum(['card', 'folder']),
  ...volume,
  /** Whether the file system keeps names in the order in which they were made, as FAT does. */
  keepsOrder: z.boolean(),
  /** Room that is needed at most, in clusters of the target; null where nothing to write was named. */
  neededBytes: bytes.nullable(),
  /** The content that its credits name, where they name one. */
  holds: z.string().nullable(),
  /** Files there that no record and no plan knows by their path; the first hundred. They are removed only with `replace`. */
  strangers: z.array(z.string()).readonly(),
  strangerCount: z.int(),
  /** Why it would be refused, the first reason; null where it would not. */
  refusal: told.nullable(),
  /** Whether `replace` would take the refusal away. */
  needsReplace: z.boolean(),
  /** What to know before writing, each in one sentence: what is overwritten, what differs from what the board was told to like. */
  cautions: z.array(z.string()).readonly(),
})

/** What was written to a folder. */
export const writtenFolder = z.strictObject({
  into: z.string(),
  kind: z.enum(['card', 'folder']),
  fileSystem: z.string(),
  filesWritten: z.int(),
  bytesWritten: bytes,
  /** Files that were right already and were left as they were. */
  filesLeft: z.int(),
  /** What was taken away: it belonged to a former content, or `replace` was said. */
  removed: z.array(z.string()).readonly(),
  /** What operating systems had left there and was taken away. */
  litterRemoved: z.array(z.string()).readonly(),
  /** Whether everything was seated anew, since free places in a used directory would have broken the order. */
  wasReseated: z.boolean(),
  /** What to do now, each in one sentence: ejecting, and the read-back that only a card put in again can give. */
  next: z.array(z.string()).readonly(),
})

interface Shapes<S extends z.ZodRawShape, V extends z.ZodType, Z extends z.ZodType, K extends z.ZodType> {
  readonly selection: z.ZodObject<S>
  readonly verifyReport: V
  readonly sizeReport: Z
  readonly keptNow: K
}

/** Cards and folders that content is written to file by file. */
export function targetCallsWith<
  S extends z.ZodRawShape,
  V extends z.ZodType,
  Z extends z.ZodType,
  K extends z.ZodType,
>({ selection, verifyReport, sizeReport, keptNow }: Shapes<S, V, Z, K>) {
  return {
    /** Removable drives, mounted ones first, then by path. */
    'drives:list': {
      long: false,
      request: z.strictObject({}),
      response: z.strictObject({ drives: z.array(drive).readonly() }),
    },
    /**
     * Looks at a target without reading its files: for a recorded `content`, for a selection, or for
     * neither.
     */
    'targets:judge': {
      long: false,
      request: z.strictObject({
        ...selection.shape,
        into: path,
        content: contentName.optional(),
        cardBytes: bytes.optional(),
        replace: z.boolean().optional(),
      }),
      response: targetReport,
    },
    /** As `make`, file by file into a mounted card or a folder. The content is the one that `make` would record. */
    'make:into': {
      long: true,
      request: z.strictObject({
        ...selection.shape,
        cardBytes: bytes.optional(),
        into: path,
        /** Says that what is there and neither planned nor on record may be removed. */
        replace: z.boolean().optional(),
        /** Prepares the fonts first, as `prepare` does. */
        prepare: z.boolean().optional(),
        accept: z
          .array(z.strictObject({ rule: z.string(), path: z.string().nullable(), reason: z.string().min(1) }))
          .readonly()
          .optional(),
      }),
      response: z.strictObject({
        fingerprint: z.string(),
        board: z.string(),
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
        written: writtenFolder,
        verify: verifyReport,
        verified: z.boolean(),
      }),
    },
    'contents:remake-into': {
      long: true,
      request: z.strictObject({ content: contentName, into: path, replace: z.boolean().optional() }),
      response: z.strictObject({
        fingerprint: z.string(),
        written: writtenFolder,
        verify: verifyReport,
        verified: z.boolean(),
      }),
    },
  } as const
}
