import fc from 'fast-check'
import { expect, test } from 'vitest'
import { batchesOf } from '../../../main/workers/prepare-batches.ts'

const MIB = 1 << 20
const mebibytes = fc.integer({ min: 0, max: 200 })

test('every sound is in one batch, and no batch is too large but for a sound that is so alone', () => {
  fc.assert(
    fc.property(fc.array(mebibytes, { maxLength: 300 }), fc.integer({ min: 1, max: 4 }), (sizes, workers) => {
      const sizesBytes = sizes.map((size) => size * MIB)
      const batches = batchesOf(sizesBytes, workers)
      expect(batches.flatMap(({ indexes }) => indexes).toSorted((a, b) => a - b)).toEqual([...sizes.keys()])
      for (const { indexes, sizeBytes } of batches) {
        expect(sizeBytes).toBe(indexes.reduce((sum, index) => sum + (sizesBytes[index] ?? 0), 0))
        expect(indexes.length).toBeLessThanOrEqual(48)
        if (indexes.length > 1) expect(sizeBytes).toBeLessThanOrEqual(96 * MIB)
      }
    }),
  )
})

test('few sounds are spread evenly over all workers', () => {
  const batches = batchesOf(
    [30, 1, 1, 1, 1, 1, 1, 1].map((size) => size * MIB),
    2,
  )
  expect(batches.map(({ indexes }) => indexes.length)).toEqual([2, 2, 2, 2])
})

test('many small sounds share as few starts as a batch holds, beside the long ones', () => {
  const sizes = [...Array<number>(10).fill(90 * MIB), ...Array<number>(100).fill(MIB / 100)]
  const batches = batchesOf(sizes, 2)
  expect(batches.length).toBe(10)
  expect(Math.max(...(batches[0]?.indexes ?? []))).toBeGreaterThanOrEqual(10)
})
