import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { placeTyped, withMoved } from '../../../renderer/elements/list-order.ts'

describe('moving a thing in a list', () => {
  test.each([
    { from: 0, to: 2, moved: ['b', 'c', 'a', 'd'] },
    { from: 3, to: 0, moved: ['d', 'a', 'b', 'c'] },
    { from: 1, to: 2, moved: ['a', 'c', 'b', 'd'] },
  ])('from $from to $to', ({ from, to, moved }) => {
    expect(withMoved(['a', 'b', 'c', 'd'], from, to)).toEqual(moved)
  })

  test.each([
    [1, 1],
    [0, -1],
    [3, 4],
    [9, 0],
  ])('from %i to %i leaves the very list', (from, to) => {
    const list = ['a', 'b', 'c', 'd']
    expect(withMoved(list, from, to)).toBe(list)
  })

  test('keeps all others in their order, and is undone by the way back', () => {
    const place = fc
      .array(fc.string(), { minLength: 2, maxLength: 12 })
      .chain((list) => fc.tuple(fc.constant(list), fc.nat(list.length - 1), fc.nat(list.length - 1)))
    fc.assert(
      fc.property(place, ([list, from, to]) => {
        const moved = withMoved(list, from, to)
        expect(moved[to]).toBe(list[from])
        expect(moved.filter((_, index) => index !== to)).toEqual(list.filter((_, index) => index !== from))
        expect(withMoved(moved, to, from)).toEqual(list)
      }),
    )
  })
})

describe('a number that is typed for a font of five', () => {
  test.each([
    { text: '3', firstNumber: 1, place: 2 },
    { text: ' 1 ', firstNumber: 1, place: 0 },
    { text: '0', firstNumber: 0, place: 0 },
    { text: '0', firstNumber: 1, place: 0 },
    { text: '99', firstNumber: 1, place: 4 },
    { text: '4', firstNumber: 0, place: 4 },
  ])('"$text", counted from $firstNumber, is place $place', ({ text, firstNumber, place }) => {
    expect(placeTyped(text, firstNumber, 5)).toBe(place)
  })

  test.each(['', 'two', '-1', '1.5', '1e3', '12345678'])('"%s" means no place', (text) => {
    expect(placeTyped(text, 1, 5)).toBeNull()
  })
})
