import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { leadOf, placeAfter, sameMoment, type TakeShape } from '../../../app/model/two-takes.ts'

const loop: TakeShape = { lengthSeconds: 2, leadSeconds: 0, isLoop: true }
const once: TakeShape = { lengthSeconds: 2, leadSeconds: 0, isLoop: false }

describe('where a take stands', () => {
  test.each([
    { shape: loop, from: 0.5, elapsed: 1, stands: 1.5 },
    { shape: loop, from: 0.5, elapsed: 4, stands: 0.5 },
    { shape: loop, from: 0, elapsed: 2, stands: 0 },
    { shape: once, from: 0.5, elapsed: 1, stands: 1.5 },
    { shape: once, from: 0.5, elapsed: 1.5, stands: null },
    { shape: { ...loop, lengthSeconds: 0 }, from: 0, elapsed: 1, stands: null },
  ])('from $from after $elapsed s: $stands', ({ shape, from, elapsed, stands }) => {
    if (stands === null) expect(placeAfter(shape, from, elapsed)).toBeNull()
    else expect(placeAfter(shape, from, elapsed)).toBeCloseTo(stands, 9)
  })
})

describe('the same moment of the other take', () => {
  test('lies earlier where its beginning was cut', () => {
    const cut = { ...once, lengthSeconds: 1.5, leadSeconds: 0.4 }
    expect(sameMoment(once, 1, cut)).toBeCloseTo(0.6, 9)
    expect(sameMoment(cut, 0.6, once)).toBeCloseTo(1, 9)
    expect(sameMoment(once, 0.1, cut)).toBe(0)
    expect(sameMoment(once, 2, cut)).toBe(1.5)
  })

  test('goes round in a loop', () => {
    const closed = { ...loop, lengthSeconds: 1.8, leadSeconds: 0.1 }
    expect(sameMoment(loop, 0.05, closed)).toBeCloseTo(1.75, 9)
    expect(sameMoment(loop, 1.95, closed)).toBeCloseTo(0.05, 9)
  })

  test('there and back is where it was, inside what both have', () => {
    const length = fc.double({ min: 0.5, max: 60, noNaN: true })
    fc.assert(
      fc.property(
        length,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.boolean(),
        (whole, share, isLoop) => {
          const from = { lengthSeconds: whole, leadSeconds: 0, isLoop }
          const to = { lengthSeconds: whole * 0.8, leadSeconds: whole * 0.1, isLoop }
          const seconds = whole * (0.1 + 0.79 * share)
          const there = sameMoment(from, seconds, to)
          expect(there).toBeGreaterThanOrEqual(0)
          expect(there).toBeLessThanOrEqual(to.lengthSeconds)
          expect(sameMoment(to, there, from)).toBeCloseTo(seconds, 6)
        },
      ),
    )
  })
})

describe('what a recipe leaves out at the beginning', () => {
  test.each([
    { steps: [], seconds: 0 },
    { steps: [{ step: 'trim', numbers: { leadMs: 120, tailMs: 10 } }], seconds: 0.12 },
    { steps: [{ step: 'repair-seam', numbers: { startFrame: 4410, endFrame: 88_200 } }], seconds: 0.1 },
    { steps: [{ step: 'gain', numbers: { gainDb: 3 } }], seconds: 0 },
  ])('$steps: $seconds s', ({ steps, seconds }) => {
    expect(leadOf(steps, 44_100)).toBeCloseTo(seconds, 9)
  })

  test('is nothing where the rate is not known', () => {
    expect(leadOf([{ step: 'repair-seam', numbers: { startFrame: 4410 } }], null)).toBe(0)
  })
})
