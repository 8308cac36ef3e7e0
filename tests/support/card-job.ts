import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { imageStampOf } from '../../app/cards/image-stamp.ts'
import { planCard } from '../../app/cards/plan-card.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import { madeUpBytes, type FileOnCard } from './card-on-disk.ts'
import { nodeHasher, sha256Of } from './node-hasher.ts'
import { boardOf } from './random-cards.ts'

/** So many files of so many bytes in one folder of the card. */
export function madeFiles(count: number, sizeBytes: number): FileOnCard[] {
  return Array.from({ length: count }, (_, index) => ({
    path: `01-EMBER/S${index}.WAV`,
    bytes: madeUpBytes(sizeBytes, index),
  }))
}

/** A job for the writer of images, its sources laid into `folder`/sources: FAT16 of small clusters. */
export function jobFromFiles(folder: string, files: readonly FileOnCard[]): ImageJob {
  const sources = join(folder, 'sources')
  mkdirSync(sources, { recursive: true })
  const sourcePaths: Record<string, string> = {}
  const cardFiles = files.map(({ path, bytes }) => {
    const sha256 = sha256Of(bytes)
    sourcePaths[sha256] = join(sources, sha256)
    writeFileSync(join(sources, sha256), bytes)
    return {
      path,
      sizeBytes: bytes.length,
      sha256,
      origin: { kind: 'sound', editionId: 'edition', path } as const,
    }
  })
  const board = boardOf({ fileSystems: ['fat16'], clusterBytes: 2048 })
  const plan = planCard({ files: cardFiles, board, imageBytes: null })
  return { plan, stamp: imageStampOf('0123456789', '2026-11-25T09:30:00Z', nodeHasher), sourcePaths }
}
