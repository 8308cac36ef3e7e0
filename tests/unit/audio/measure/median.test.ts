import fc from 'fast-check'
import { expect, test } from 'vitest'
import { medianOf } from '../../../../app/audio/measure/median.ts'

test('it is what sorting finds in the middle', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -50, max: 50 })), (numbers) => {
      const values = Float64Array.from(numbers)
      const sorted = values.toSorted()
      const middle = sorted.length >> 1
      const upper = sorted[middle] ?? 0
      const want = sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? 0)) / 2
      expect(medianOf(values)).toBeCloseTo(want, 12)
      expect([...values]).toEqual(numbers)
    }),
  )
})
