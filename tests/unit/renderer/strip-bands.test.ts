import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  enlargement,
  inCurrentOrder,
  stripShares,
  type Stretch,
} from '../../../renderer/elements/strip-bands.ts'

const font = (id: string, number: number | null, usedBytes: number): Stretch => ({
  id,
  number,
  name: id.toUpperCase(),
  usedBytes,
})

describe('the strip of a card', () => {
  test('is as wide as bytes: a font of a quarter of the card takes a quarter of it', () => {
    const shares = stripShares([font('a', 1, 250), font('b', 2, 500)], 250, 0)
    expect(shares.stretches.map((share) => share * shares.used)).toEqual([0.25, 0.5])
    expect(shares).toMatchObject({ free: 0.25, cardEnd: 1 })
  })

  test('shows where the card ends, if there is more than it holds', () => {
    const shares = stripShares([font('a', 1, 600), font('b', 2, 400)], 0, 200)
    expect(shares).toEqual({ stretches: [0.6, 0.4], used: 1, free: 0, cardEnd: 0.8 })
  })

  test('comes to the whole of it, whatever is on it', () => {
    const bytes = fc.nat(64_000_000_000)
    fc.assert(
      fc.property(
        fc.array(bytes, { maxLength: 80 }),
        fc.integer({ min: 1, max: 64_000_000_000 }),
        (used, free) => {
          const shares = stripShares(
            used.map((usedBytes, index) => font(`${index}`, index, usedBytes)),
            free,
            0,
          )
          const whole = shares.stretches.reduce((sum, share) => sum + share, 0)
          expect(whole).toBeCloseTo(shares.used === 0 ? 0 : 1, 9)
          expect(shares.used + shares.free).toBeCloseTo(1, 9)
        },
      ),
    )
  })

  test.each([
    { used: 10, free: 990, times: 100 },
    { used: 249, free: 751, times: 4 },
    { used: 250, free: 750, times: null },
    { used: 1000, free: 0, times: null },
    { used: 0, free: 1000, times: null },
  ])('of $used used and $free free bytes is enlarged $times times', ({ used, free, times }) => {
    expect(enlargement(stripShares([font('a', 1, used)], free, 0))).toBe(times)
  })
})

describe('a card whose order has just changed', () => {
  const answered = [font('a', 0, 10), font('b', 1, 20), font('c', 2, 30), font('root', null, 5)]

  test('is drawn in its new order and numbered anew, with the root last', () => {
    expect(inCurrentOrder(['c', 'a', 'b'], answered).map(({ id, number }) => [id, number])).toEqual([
      ['c', 0],
      ['a', 1],
      ['b', 2],
      ['root', null],
    ])
  })

  test('loses the font that was left out, and waits for one whose size nobody knows yet', () => {
    expect(inCurrentOrder(['b', 'new'], answered).map(({ id }) => id)).toEqual(['b', 'root'])
  })
})
