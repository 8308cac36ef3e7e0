import { spawnSync } from 'node:child_process'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { smallDisk, testOnSmallDisk } from '../support/small-disk.ts'
import { sweep } from '../torture/start-sweep.ts'
import { openTortureBench, type Place, type RunHow, type TortureBench } from '../torture/torture-bench.ts'
import { leftoverFaults, workshopFaults } from '../torture/workshop-faults.ts'

describe('a step that fails is told, leaves nothing half made, and the next run comes to the same', () => {
  // Every n-th step only: `npm run torture` lets all of them fail.
  test.each([
    { act: 'scan', failWith: 'ENOSPC', first: 2, every: 8 },
    { act: 'make', failWith: 'EIO', first: 5, every: 37 },
    { act: 'prepare', failWith: 'ENOSPC', first: 53, every: 110 },
    { act: 'prepare --into', failWith: 'EIO', first: 81, every: 130 },
    { act: 'make --prepare', failWith: 'EIO', first: 67, every: 143 },
    { act: 'remake', failWith: 'ENOSPC', first: 51, every: 25 },
  ] as const)('$act, $failWith', async (options) => {
    const { tried, faults } = await sweep(options)
    expect(faults).toEqual([])
    expect(tried).toBeGreaterThan(1)
  })
})

describe('a disk that is really full', () => {
  let bench: TortureBench
  beforeAll(async () => {
    bench = await openTortureBench(['scan', 'make', 'prepare', 'prepare --into'])
  })
  afterAll(() => bench.remove())

  /** Runs the act, and once more when there is room. */
  async function survives(place: Place, how: RunHow, makeRoom: () => void): Promise<string> {
    const { outcome } = bench.reference(place.act)
    const run = await bench.run(place, {}, how)
    expect(run.signal).toBeNull()
    const { error } = JSON.parse(run.stdout) as { error?: { code: string; mend: string } }
    if (run.code !== 0) {
      expect(run.code, run.stderr).toBe(3)
      expect(error?.code).toMatch(/^[a-z]+\/(disk-full|file-limit|unwritable)$/)
    }
    expect(await workshopFaults(place, outcome, 'failed')).toEqual([])
    expect(leftoverFaults(place, 'broken off')).toEqual([])
    makeRoom()
    const again = await bench.run(place)
    expect(again.code, again.stderr).toBe(0)
    expect(bench.outcomeOf(place, again.stdout)).toEqual(outcome)
    return error?.code ?? 'done'
  }

  testOnSmallDisk.each([
    { act: 'scan', kib: 500 },
    { act: 'make', kib: 700 },
    { act: 'prepare', kib: 1600 },
    { act: 'prepare --into', kib: 2900 },
  ] as const)('$act, $kib KiB', async ({ act, kib }) => {
    const disk = smallDisk(kib << 10)
    const resize = (size: string) => spawnSync('mount', ['-o', `remount,size=${size}`, disk])
    const place = bench.newPlace(act, disk)
    expect(await survives(place, {}, () => void resize('64m'))).not.toBe('done')
  })

  test.skipIf(process.platform === 'win32').each([
    { act: 'scan', kib: 60 },
    { act: 'make', kib: 100 },
    { act: 'make', kib: 1000 },
  ] as const)('$act, no file above $kib KiB', async ({ act, kib }) => {
    const place = bench.newPlace(act)
    expect(await survives(place, { limits: `ulimit -f ${kib};` }, () => {})).not.toBe('done')
  })
})
