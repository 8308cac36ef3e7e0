import { createHash, randomBytes } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
  writeSync,
  closeSync,
} from 'node:fs'
import { join } from 'node:path'
import { imageStampOf } from '../../app/cards/image-stamp.ts'
import { planCard } from '../../app/cards/plan-card.ts'
import type { CardFile } from '../../app/model/plan.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import { newSha256 } from '../../main/adapters/files/new-sha256.ts'

/** Files for a card in a folder of folders, as a peer copies them, with their hashes. */
export interface BenchFiles {
  /** Holds the folders that go into the card's root. */
  readonly folder: string
  readonly folders: readonly string[]
  readonly files: readonly CardFile[]
  readonly sourcePaths: Readonly<Record<string, string>>
  readonly totalBytes: number
  /** All bytes in one file, for copying in one go. */
  readonly inOne: string
}

const FILES_A_FOLDER = 100

/** Made once for each shape and found again; random bytes, since nothing here looks at sounds. */
export function benchFiles(dataFolder: string, count: number, sizeBytes: number): BenchFiles {
  const folder = join(dataFolder, `card-${count}-of-${sizeBytes}`)
  const marker = join(folder, '..', `card-${count}-of-${sizeBytes}.made`)
  const inOne = `${marker}.bytes`
  if (!existsSync(marker)) make(folder, inOne, count, sizeBytes)
  writeFileSync(marker, '')
  const folders = readdirSync(folder).toSorted()
  const sourcePaths: Record<string, string> = {}
  const files = folders.flatMap((font) =>
    readdirSync(join(folder, font))
      .toSorted()
      .map((name): CardFile => {
        const from = join(folder, font, name)
        const bytes = readFileSync(from)
        const sha256 = createHash('sha256').update(bytes).digest('hex')
        sourcePaths[sha256] = from
        const path = `${font}/${name}`
        return {
          path,
          sizeBytes: bytes.length,
          sha256,
          origin: { kind: 'sound', editionId: font, path: name },
        }
      }),
  )
  const totalBytes = files.reduce((sum, file) => sum + file.sizeBytes, 0)
  return { folder, folders, files, sourcePaths, totalBytes, inOne }
}

/** The plan and what it is written from. @param imageBytes null for as large as the content */
export function jobOf({ files, sourcePaths }: BenchFiles, imageBytes: number | null = null): ImageJob {
  const board = {
    fileSystems: ['fat32' as const],
    largestCardBytes: null,
    clusterBytes: 4096,
    partitionTable: 'mbr' as const,
    alignmentBytes: 4 << 20,
  }
  const plan = planCard({ files, board, imageBytes })
  return { plan, stamp: imageStampOf('0123456789', '2026-11-25T09:30:00Z', newSha256), sourcePaths }
}

function make(folder: string, inOne: string, count: number, sizeBytes: number): void {
  mkdirSync(folder, { recursive: true })
  const whole = openSync(inOne, 'w')
  for (let index = 0; index < count; index++) {
    const font = `${String(Math.floor(index / FILES_A_FOLDER) + 1).padStart(3, '0')}-font`
    if (index % FILES_A_FOLDER === 0) mkdirSync(join(folder, font), { recursive: true })
    // Sizes vary by an eighth, so that files end anywhere in a cluster.
    const bytes = randomBytes(Math.round(sizeBytes * (0.875 + ((index * 37) % 100) / 400)))
    writeFileSync(join(folder, font, `sound ${index % FILES_A_FOLDER}.wav`), bytes)
    writeSync(whole, bytes)
  }
  closeSync(whole)
}
