import { expect, test } from 'vitest'
import { openHangLimit } from '../../../main/adapters/media/hang-limit.ts'

test('a program that hangs three times in a row is left alone, and tried again after some minutes', () => {
  let nowMs = 1000
  const limit = openHangLimit(() => nowMs)
  for (const isReached of [false, false, false]) {
    expect(limit.isReached()).toBe(isReached)
    limit.hung()
  }
  expect(limit.isReached()).toBe(true)
  nowMs += 299_999
  expect(limit.isReached()).toBe(true)
  nowMs += 1
  expect(limit.isReached()).toBe(false)
  limit.hung()
  expect(limit.isReached()).toBe(true)
})

test('sounds that hang one by one, with others between them, stop nothing', () => {
  const limit = openHangLimit(() => 0)
  for (let round = 0; round < 10; round++) {
    limit.hung()
    limit.hung()
    limit.ended()
    expect(limit.isReached()).toBe(false)
  }
})
