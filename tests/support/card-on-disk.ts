import { createHash } from 'node:crypto'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { GeometryBoard } from '../../app/cards/choose-geometry.ts'
import { creditsText } from '../../app/cards/credits.ts'
import { documentSerialOf } from '../../app/cards/document-serial.ts'
import { BLANK_FINGERPRINT, fingerprintOf } from '../../app/cards/fingerprint.ts'
import { imageStampOf } from '../../app/cards/image-stamp.ts'
import { planCard } from '../../app/cards/plan-card.ts'
import type { LicenceRecord } from '../../app/model/licence-record.ts'
import type { CardFile, ImageStamp, Plan } from '../../app/model/plan.ts'
import { licenceDocuments } from '../../main/adapters/documents/licence-documents.ts'
import { createImage, hashOfParts, writeImagePart } from '../../main/adapters/files/write-image.ts'
import { nodeHasher } from './node-hasher.ts'

export interface FileOnCard {
  readonly path: string
  readonly bytes: Uint8Array
}

export interface CardOnDisk {
  readonly imagePath: string
  readonly plan: Plan
  readonly stamp: ImageStamp
  readonly imageHash: string
  /** All files with their bytes, the two documents last. */
  readonly files: readonly FileOnCard[]
}

const DATE = '2026-11-25T09:30:01Z'

/** Writes a whole card image into `folder`, documents included, by the product's own writer. */
export function cardOnDisk(
  folder: string,
  sounds: readonly FileOnCard[],
  board: GeometryBoard,
  imageBytes: number | null = null,
  /** Into how many parts the image is divided while it is written. */
  parts = 1,
): CardOnDisk {
  const withDocuments = (fingerprint: string): FileOnCard[] => {
    const record = recordOf(sounds, fingerprint)
    const credits = new TextEncoder().encode(creditsText(record, 'LICENCES.CDX.JSON'))
    return [
      ...sounds,
      { path: 'CREDITS.TXT', bytes: credits },
      { path: 'LICENCES.CDX.JSON', bytes: licenceDocuments.serialise(record) },
    ]
  }
  const planOf = (files: readonly FileOnCard[]) => planCard({ files: files.map(cardFile), board, imageBytes })
  const blank = planOf(withDocuments(BLANK_FINGERPRINT))
  const fingerprint = fingerprintOf('board', blank.geometry, blank.files, nodeHasher)
  const files = withDocuments(fingerprint)
  const plan = planOf(files)
  const stamp = imageStampOf(fingerprint, DATE, nodeHasher)

  mkdirSync(join(folder, 'bytes'), { recursive: true })
  const sourcePaths: Record<string, string> = {}
  for (const { bytes } of files) {
    const sha256 = sha256Of(bytes)
    if (bytes.length === 0 || sha256 in sourcePaths) continue
    sourcePaths[sha256] = join(folder, 'bytes', sha256)
    writeFileSync(sourcePaths[sha256], bytes)
  }
  const imagePath = join(folder, 'card.img')
  const job = { plan, stamp, sourcePaths }
  const paths = { temporary: imagePath, final: imagePath }
  createImage(job, paths)
  const hashed = Array.from({ length: parts }, (_, index) =>
    writeImagePart(
      job,
      { index, of: parts },
      paths,
      () => {},
      () => {},
    ),
  )
  const imageHash = hashOfParts(hashed)
  return { imagePath, plan, stamp, imageHash, files }
}

/** Bytes that are the same for the same size and seed, and compress badly. */
export function madeUpBytes(sizeBytes: number, seed: number): Uint8Array {
  const bytes = new Uint8Array(sizeBytes)
  let state = (seed * 2_654_435_761 + 1) >>> 0
  for (let at = 0; at < sizeBytes; at++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    bytes[at] = state >>> 24
  }
  return bytes
}

function cardFile({ path, bytes }: FileOnCard): CardFile {
  const kind = path === 'CREDITS.TXT' ? 'credits' : path === 'LICENCES.CDX.JSON' ? 'licences' : 'sound'
  const origin = kind === 'sound' ? ({ kind, editionId: 'edition', path } as const) : ({ kind } as const)
  return { path, sizeBytes: bytes.length, sha256: sha256Of(bytes), origin }
}

function recordOf(sounds: readonly FileOnCard[], fingerprint: string): LicenceRecord {
  return {
    fingerprint,
    date: DATE,
    toolVersion: '0.1.0',
    boardTitle: 'Test board',
    serialUuid: documentSerialOf(fingerprint, nodeHasher),
    fonts: [
      {
        slot: 1,
        folder: 'font',
        name: 'Harbour Bell',
        version: '1.2',
        creatorName: 'Tidewater Bench',
        licences: [{ kind: 'bought', terms: 'one build' }],
        files: sounds.map(({ path, bytes }) => ({ path, sizeBytes: bytes.length, sha256: sha256Of(bytes) })),
      },
    ],
  }
}

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}
