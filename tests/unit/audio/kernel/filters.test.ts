import { expect, test } from 'vitest'
import { kernelFilters } from '../../../../app/audio/kernel/filters.ts'

test('at 48 kHz the filters are those of ITU-R BS.1770-5, annex 1, tables 1 and 2', () => {
  const { weightingShelf, weightingHighPass } = kernelFilters(48000)
  const published = {
    b0: 1.53512485958697,
    b1: -2.69169618940638,
    b2: 1.19839281085285,
    a1: -1.69065929318241,
    a2: 0.73248077421585,
  }
  for (const [key, value] of Object.entries(published)) {
    expect(weightingShelf[key as keyof typeof published]).toBeCloseTo(value, 11)
  }
  expect(weightingHighPass.a1).toBeCloseTo(-1.99004745483398, 11)
  expect(weightingHighPass.a2).toBeCloseTo(0.99007225036621, 11)
})
