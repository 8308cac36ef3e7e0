import { spawnSync } from 'node:child_process'
import { chmodSync, existsSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { AppError } from '../../app/errors/app-error.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import type { TargetFolder } from '../../app/ports/target-folder.ts'
import { openTargetFolder } from '../../main/adapters/files/target-folder.ts'
import { jobFromFiles, madeFiles } from '../support/card-job.ts'
import { beforeStep, fillFolder } from '../support/fill-folder.ts'
import { sha256Of } from '../support/node-hasher.ts'
import { smallDisk, testOnSmallDisk } from '../support/small-disk.ts'
import { startChild } from '../support/start-child.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

const code = (code: string) => expect.objectContaining({ code }) as AppError

/** Every file below a folder with its hash, sorted by path. */
function filesBelow(folder: string): readonly (readonly [string, string])[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name))
    .map((path) => [path.slice(folder.length + 1), sha256Of(readFileSync(path))] as const)
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
}

const planned = ({ plan }: ImageJob) =>
  plan.files.map(({ path, sha256 }) => [path, sha256]).toSorted(([a = ''], [b = '']) => (a < b ? -1 : 1))

const jobOf = (count: number, sizeBytes: number) =>
  jobFromFiles(temporaryFolder(), madeFiles(count, sizeBytes))

describe('a folder of this machine', () => {
  test('comes to hold the files, and nothing of the writing stays', () => {
    const into = temporaryFolder()
    const job = jobOf(4, 70_001)
    fillFolder(into, job)
    expect(filesBelow(into)).toEqual(planned(job))
    expect(readdirSync(into)).toEqual(['01-EMBER'])
  })

  test('keeps empty files, of which the store has no bytes', () => {
    const into = temporaryFolder()
    const job = jobOf(2, 0)
    fillFolder(into, { ...job, sourcePaths: {} })
    expect(filesBelow(into)).toEqual(planned(job))
  })

  test('with a link in it is not written through the link', () => {
    const [into, elsewhere] = [temporaryFolder(), temporaryFolder()]
    writeFiles(elsewhere, { 'S0.WAV': 'mine' })
    symlinkSync(elsewhere, join(into, '01-EMBER'))
    const job = jobOf(2, 100)
    expect(() => fillFolder(into, job)).toThrow(code('target/strangers'))
    fillFolder(into, job, { mayReplace: true })
    expect(filesBelow(into)).toEqual(planned(job))
    expect(filesBelow(elsewhere)).toEqual([['S0.WAV', sha256Of(Buffer.from('mine'))]])
  })

  test('never replaces a name that came while it was written', () => {
    const into = temporaryFolder()
    const job = jobOf(2, 100)
    const intruder = () => writeFileSync(join(into, '01-EMBER'), 'mine')
    const late = (target: TargetFolder): TargetFolder => ({
      ...target,
      rename(from, to) {
        intruder()
        target.rename(from, to)
      },
    })
    expect(() => fillFolder(into, job, {}, late)).toThrow(code('target/changed-meanwhile'))
    expect(readFileSync(join(into, '01-EMBER'), 'utf8')).toBe('mine')
  })

  test('gets no wrong bytes: what the store keeps is held against its hash on the way', () => {
    const into = temporaryFolder()
    const job = jobOf(3, 5_000)
    const [, , third] = Object.values(job.sourcePaths)
    const bytes = readFileSync(third!)
    bytes[2_500]! ^= 1
    writeFileSync(third!, bytes)
    expect(() => fillFolder(into, job)).toThrow(code('store/damaged'))
    rmSync(third!)
    expect(() => fillFolder(into, job)).toThrow(code('store/missing'))
    expect(readdirSync(into)).toEqual([])
  })

  test('that is not there is told', () => {
    expect(() => openTargetFolder(join(temporaryFolder(), 'none'), {}, () => {})).toThrow(code('target/gone'))
  })
})

describe('a target that fails', () => {
  testOnSmallDisk(
    'for want of room though there was enough at first: told, and mended by the next run',
    () => {
      const into = smallDisk(4 << 20)
      const job = jobOf(4, 200_000)
      const fill = () =>
        spawnSync('dd', ['if=/dev/zero', `of=${join(into, '.DS_Store')}`, 'bs=64k'], { stdio: 'ignore' })
      expect(() => fillFolder(into, job, {}, beforeStep(5, fill))).toThrow(code('target/disk-full'))
      expect(readdirSync(into)).toEqual(['.DS_Store'])
      rmSync(join(into, '.DS_Store'))
      fillFolder(into, job)
      expect(filesBelow(into)).toEqual(planned(job))
    },
  )

  testOnSmallDisk('by having too little room from the start is told with the figures, untouched', () => {
    const into = smallDisk(1 << 20)
    expect(() => fillFolder(into, jobOf(4, 400_000))).toThrow(/1[.]6 MiB|bytes are missing/)
    expect(readdirSync(into)).toEqual([])
  })

  testOnSmallDisk('by becoming read-only: told at any step, and mended by the next run', () => {
    for (const step of [2, 5, 8, 11, 13, 14]) {
      const into = smallDisk(4 << 20)
      const job = jobOf(4, 20_000)
      const remount = (how: string) => spawnSync('mount', ['-o', `remount,${how}`, into])
      try {
        fillFolder(
          into,
          job,
          {},
          beforeStep(step, () => remount('ro')),
        )
      } catch (error) {
        expect(error).toEqual(code('target/read-only'))
      }
      remount('rw')
      fillFolder(into, job)
      expect(filesBelow(into)).toEqual(planned(job))
    }
  })

  testOnSmallDisk('by vanishing: nothing is written where it was mounted', () => {
    for (const step of [2, 5, 8, 11, 13, 14]) {
      const into = smallDisk(4 << 20)
      const unmount = () => spawnSync('umount', ['-l', into])
      expect(() => fillFolder(into, jobOf(4, 20_000), {}, beforeStep(step, unmount))).toThrow(
        code('target/gone'),
      )
      expect(readdirSync(into)).toEqual([])
    }
  })

  test('by its permissions is told', () => {
    const into = temporaryFolder()
    chmodSync(into, 0o555)
    const fill = () => fillFolder(into, jobOf(1, 100))
    // Root may write anywhere.
    if (process.getuid?.() === 0) expect(fill).not.toThrow()
    else expect(fill).toThrow(code('target/read-only'))
    chmodSync(into, 0o755)
  })

  test(
    'by the death of the process, at any step, is mended by the next run',
    { timeout: 120_000 },
    async () => {
      const folder = temporaryFolder()
      const into = join(folder, 'card')
      const job = jobFromFiles(folder, madeFiles(6, 40_000))
      let filled = false
      for (let step = 0; !filled; step += 4) {
        rmSync(into, { recursive: true, force: true })
        writeFiles(into, { '01-EMBER/S1.WAV': 'an older one', 'OLD.TXT': 'older' })
        const child = startChild('fill-folder-child.ts', folder, into, String(step))
        await child.gone
        filled = child.printed().includes('filled')
        expect(child.process.signalCode).toBe(filled ? null : 'SIGKILL')
        fillFolder(into, job, { mayReplace: true })
        expect(filesBelow(into)).toEqual(planned(job))
      }
      expect(existsSync(into)).toBe(true)
    },
  )
})
