import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sizeOfCard } from '../../../app/cards/card-size.ts'
import { fingerprintOf } from '../../../app/cards/fingerprint.ts'
import { clusterOffset } from '../../../app/cards/geometry.ts'
import { imageExtents, extentBytes } from '../../../app/cards/image-extents.ts'
import { imageStampOf } from '../../../app/cards/image-stamp.ts'
import { planAgain, planCard, type PlanInput } from '../../../app/cards/plan-card.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import type { Plan } from '../../../app/model/plan.ts'
import { walkFat } from '../../support/fat-walk.ts'
import { nodeHasher } from '../../support/node-hasher.ts'
import { boardOf, randomBoard, randomFiles } from '../../support/random-cards.ts'
import { sparseImage } from '../../support/sparse-image.ts'

const stamp = imageStampOf('0123456789', '2026-11-25T09:30:01Z', nodeHasher)
const contentOf = (file: { sizeBytes: number; sha256: string }): Uint8Array =>
  new Uint8Array(file.sizeBytes).fill(parseInt(file.sha256.slice(-2), 16))

/** Cards whose image would be huge are left out: the walk reads whole FATs. */
const randomInput = fc
  .record({ files: randomFiles, board: randomBoard })
  .map((drawn): PlanInput => ({ ...drawn, imageBytes: null }))

/** A root too full for a FAT16 and the like are told in words, and are no plan. */
function planOrNull(input: PlanInput): Plan | null {
  try {
    return planCard(input)
  } catch (error) {
    if (error instanceof AppError) return null
    throw error
  }
}

test('what is counted, what is planned and what an independent reader finds on the image agree to the byte', () => {
  fc.assert(
    fc.property(randomInput, (input) => {
      const plan = planOrNull(input)
      if (plan === null) return
      const size = sizeOfCard(input)
      const walked = walkFat(sparseImage(plan, stamp, contentOf), plan.geometry.imageBytes)
      expect(walked.faults).toEqual([])
      expect(walked.usedClusters * walked.clusterBytes).toBe(size.usedBytes)
      expect(walked.freeClusters * walked.clusterBytes).toBe(size.freeBytes)
      expect(walked.fatType).toBe(plan.geometry.fatType)
      expect(walked.files.map((file) => file.path)).toEqual(plan.files.map((file) => file.path))
      expect(size.contentBytes + size.slackBytes + size.directoryBytes).toBe(size.usedBytes)
      expect(size.geometry).toEqual(plan.geometry)
      for (const [index, file] of walked.files.entries()) {
        const planned = plan.files[index]
        expect(file.sizeBytes).toBe(planned?.sizeBytes)
        expect(file.clusters[0] ?? 0).toBe(planned?.firstCluster)
      }
    }),
    { numRuns: 150 },
  )
})

test('thousands of random libraries are counted as they are planned', () => {
  fc.assert(
    fc.property(randomInput, (input) => {
      const plan = planOrNull(input)
      if (plan === null) return
      const size = sizeOfCard(input)
      expect(size.usedBytes).toBe(plan.usedClusters * plan.geometry.clusterBytes)
      expect(size.fits).toBe(true)
    }),
    { numRuns: 2000 },
  )
})

test('extents follow each other, do not overlap, and end inside the image; the data area is aligned', () => {
  fc.assert(
    fc.property(randomInput, (input) => {
      const plan = planOrNull(input)
      if (plan === null) return
      let end = 0
      for (const extent of imageExtents(plan, stamp)) {
        expect(extent.offset).toBeGreaterThanOrEqual(end)
        end = extent.offset + extentBytes(extent)
      }
      expect(end).toBeLessThanOrEqual(plan.geometry.imageBytes)
      expect(clusterOffset(plan.geometry, 2) % input.board.alignmentBytes).toBe(0)
      expect(plan.geometry.imageBytes % (1 << 20)).toBe(0)
    }),
    { numRuns: 500 },
  )
})

test('a recorded content is laid out again as it was', () => {
  fc.assert(
    fc.property(randomInput, (input) => {
      const plan = planOrNull(input)
      if (plan === null) return
      expect(planAgain(plan.files, plan.geometry)).toEqual(plan)
    }),
    { numRuns: 300 },
  )
})

test('a size told is kept to the sector, and what is free is what is left', () => {
  fc.assert(
    fc.property(randomFiles, fc.integer({ min: 300_000_000, max: 2 ** 40 }), (files, imageBytes) => {
      const size = sizeOfCard({ files, board: boardOf(), imageBytes })
      expect(size.geometry.imageBytes).toBe(imageBytes - (imageBytes % 512))
      expect(size.usedBytes + size.freeBytes).toBe(size.geometry.clusterCount * 4096)
    }),
  )
})

test('the fingerprint changes with a byte of a file, a name, the order, the geometry or the board', () => {
  const file = (path: string, sha256 = 'a'.repeat(64)) =>
    ({ path, sizeBytes: 10, sha256, origin: { kind: 'sound', editionId: 'e', path } }) as const
  const named = (files: ReturnType<typeof file>[], board = 'b', imageBytes: number | null = null): string => {
    const plan = planCard({ files, board: boardOf(), imageBytes })
    return fingerprintOf(board, plan.geometry, plan.files, nodeHasher)
  }
  const fingerprints = [
    named([file('a'), file('b')]),
    named([file('b'), file('a')]),
    named([file('a'), file('c')]),
    named([file('a'), file('b', 'c'.repeat(64))]),
    named([file('a'), file('b')], 'other'),
    named([file('a'), file('b')], 'b', 400_000_000),
  ]
  expect(new Set(fingerprints).size).toBe(fingerprints.length)
  for (const fingerprint of fingerprints) expect(fingerprint).toMatch(/^[0-9A-HJKMNP-TV-Z]{10}$/)
})

test('the two documents do not change the fingerprint, which they carry', () => {
  const sound = {
    path: 'a',
    sizeBytes: 1,
    sha256: 'a'.repeat(64),
    origin: { kind: 'sound', editionId: 'e', path: 'a' },
  } as const
  const credits = {
    path: 'CREDITS.TXT',
    sizeBytes: 5,
    sha256: 'c'.repeat(64),
    origin: { kind: 'credits' },
  } as const
  const { geometry } = planCard({ files: [sound, credits], board: boardOf(), imageBytes: null })
  expect(fingerprintOf('b', geometry, [sound, credits], nodeHasher)).toBe(
    fingerprintOf('b', geometry, [sound], nodeHasher),
  )
})
