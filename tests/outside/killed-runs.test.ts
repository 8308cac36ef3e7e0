import { expect, test } from 'vitest'
import { killRuns } from '../torture/kill-runs.ts'

test('twenty kills leave a whole workshop, nothing half made, and a next run that comes to the same', async () => {
  const { killed, faults } = await killRuns({
    kills: 20,
    seed: 20_261_125,
    acts: ['scan', 'make', 'prepare'],
  })
  expect(faults).toEqual([])
  expect(Object.values(killed).reduce((sum, count) => sum + count, 0)).toBe(20)
})
