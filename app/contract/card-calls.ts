import { z } from 'zod'
import { bytes, id, ruleChange, singleSound } from './shapes.ts'

const path = z.string().min(1).max(32_768)
/** A fingerprint, or the code of a build: then the newest content made for it. */
const contentName = z.string().min(1).max(200)

export const contentShown = z.strictObject({
  fingerprint: z.string(),
  createdAt: z.string(),
  board: id,
  boardHash: z.string(),
  build: z.string().nullable(),
  /** Every build that it was made for, `build` first. */
  builds: z.array(z.string()).readonly(),
  fileSystem: z.enum(['fat16', 'fat32']),
  clusterBytes: bytes,
  imageBytes: bytes,
  imageHash: z.string(),
  toolVersion: z.string(),
  /** Bytes of clusters in use, the root directory's among them. */
  usedBytes: bytes,
  freeBytes: bytes,
  /** Numbered as the board counts, in play order. */
  fonts: z
    .array(
      z.strictObject({
        editionId: id,
        slot: z.int(),
        folder: z.string(),
        font: z.string(),
        version: z.string(),
        creator: z.string().nullable(),
        sizeBytes: bytes,
        /** Bytes of clusters, its directories' among them. */
        usedBytes: bytes,
      }),
    )
    .readonly(),
  files: z
    .array(
      z.strictObject({
        path: z.string(),
        sizeBytes: bytes,
        sha256: z.string(),
        kind: z.enum(['sound', 'companion', 'config', 'credits', 'licences']),
      }),
    )
    .readonly(),
  /** The build's config as it was; null where the card has none. */
  config: z.strictObject({ fileName: z.string(), text: z.string() }).nullable(),
  /** In which single sounds the build played otherwise than its fonts as they came. */
  singleSounds: z.array(singleSound).readonly(),
  /** Fonts that lent such sounds. */
  lenders: z.array(z.strictObject({ editionId: id, font: z.string(), version: z.string() })).readonly(),
  /** Prepared sounds: how each was made of its original. */
  recipes: z
    .array(
      z.strictObject({
        path: z.string(),
        originalSha256: z.string(),
        steps: z.array(z.strictObject({ step: z.string(), rule: z.string(), reason: z.string() })).readonly(),
      }),
    )
    .readonly(),
  acceptedFindings: z
    .array(z.strictObject({ rule: z.string(), path: z.string().nullable(), reason: z.string() }))
    .readonly(),
  /** Rules that the build switched off or weighed anew when this was made. */
  ruleChanges: z.array(ruleChange).readonly(),
})

const fontOnCard = z.strictObject({ slot: z.int(), font: z.string(), version: z.string() })

/** How one content differs from another; nothing listed where they hold the same. */
export const contentsDiff = z.strictObject({
  a: z.string(),
  b: z.string(),
  isSameBoard: z.boolean(),
  isSameGeometry: z.boolean(),
  fontsOnlyInA: z.array(fontOnCard).readonly(),
  fontsOnlyInB: z.array(fontOnCard).readonly(),
  /** Fonts of both that are numbered otherwise. */
  fontsMoved: z.array(z.strictObject({ font: z.string(), slotInA: z.int(), slotInB: z.int() })).readonly(),
  filesOnlyInA: z.array(z.string()).readonly(),
  filesOnlyInB: z.array(z.string()).readonly(),
  filesChanged: z.array(z.string()).readonly(),
  /** The same bytes under another path. */
  filesMoved: z.array(z.strictObject({ from: z.string(), to: z.string() })).readonly(),
  filesSame: z.int(),
})

/** @param verifyReport what a card that was read back is told as */
export function cardCallsWith<V extends z.ZodType>(verifyReport: V) {
  return {
    'contents:show': {
      long: false,
      request: z.strictObject({ content: contentName }),
      response: contentShown,
    },
    'contents:diff': {
      long: false,
      request: z.strictObject({ a: contentName, b: contentName }),
      response: contentsDiff,
    },
    'contents:remake': {
      long: true,
      request: z.strictObject({ content: contentName, imagePath: path, replace: z.boolean().optional() }),
      response: z.strictObject({
        fingerprint: z.string(),
        imagePath: z.string(),
        imageBytes: bytes,
        imageHash: z.string(),
        verify: verifyReport,
        verified: z.boolean(),
      }),
    },
  } as const
}
