import { spawnSync } from 'node:child_process'
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { cardImages } from '../../main/adapters/files/card-images.ts'
import type { Progress, RunControl } from '../../app/ports/progress.ts'
import { cardOnDisk, madeUpBytes } from '../support/card-on-disk.ts'
import { boardOf } from '../support/random-cards.ts'
import { jobFromFiles, madeFiles } from '../support/card-job.ts'
import { walkFat } from '../support/fat-walk.ts'
import { sha256Of } from '../support/node-hasher.ts'
import { smallDisk, testOnSmallDisk } from '../support/small-disk.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const control: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }
const code = (code: string) => expect.objectContaining({ code }) as Error
/** Everything in a folder but the sources of the job. */
const left = (folder: string) => readdirSync(folder).filter((name) => name !== 'sources')

describe('an image that is written', () => {
  test('has its name only once it is published, and is then read by the specification alone', async () => {
    const folder = temporaryFolder()
    const files = madeFiles(5, 70_001)
    const written = await cardImages.write(jobFromFiles(folder, files), join(folder, 'card.img'), control)
    expect(existsSync(join(folder, 'card.img'))).toBe(false)
    await written.publish(false)
    expect(left(folder)).toEqual(['card.img'])
    const image = readFileSync(join(folder, 'card.img'))
    const walked = walkFat((offset, length) => image.subarray(offset, offset + length), image.length)
    expect(walked.faults).toEqual([])
    expect(walked.files.map((file) => [file.path, sha256Of(file.bytes())])).toEqual(
      files.map((file) => [file.path, sha256Of(file.bytes)]),
    )
  })

  test('is the same bytes and has the same hash in however many parts it was written', () => {
    const sounds = Array.from({ length: 40 }, (_, index) => ({
      path: `01-ember/s${index}.wav`,
      bytes: madeUpBytes((index * 7919) % 90_000, index),
    }))
    const whole = cardOnDisk(temporaryFolder(), sounds, boardOf())
    const bytes = readFileSync(whole.imagePath)
    for (const parts of [2, 3, 7, 100]) {
      const divided = cardOnDisk(temporaryFolder(), sounds, boardOf(), null, parts)
      expect(divided.imageHash).toBe(whole.imageHash)
      expect(readFileSync(divided.imagePath).equals(bytes), `${parts} parts`).toBe(true)
    }
  })

  test('of many bytes is written by two at once, and read by the specification alone', async () => {
    const folder = temporaryFolder()
    const files = madeFiles(20, 2_000_001)
    const seen: number[] = []
    const written = await cardImages.write(jobFromFiles(folder, files), join(folder, 'large.img'), {
      ...control,
      onProgress: ({ done }) => seen.push(done),
    })
    await written.publish(false)
    const image = readFileSync(join(folder, 'large.img'))
    const walked = walkFat((offset, length) => image.subarray(offset, offset + length), image.length)
    expect(walked.faults).toEqual([])
    expect(walked.files.map((file) => sha256Of(file.bytes()))).toEqual(
      files.map((file) => sha256Of(file.bytes)),
    )
    expect(seen.toSorted((a, b) => a - b)).toEqual(seen)
  })

  test('takes only the room of its content where the disk knows holes', async () => {
    const folder = temporaryFolder()
    const written = await cardImages.write(
      jobFromFiles(folder, madeFiles(1, 1000)),
      join(folder, 'c.img'),
      control,
    )
    const { size, blocks } = statSync(written.temporaryPath)
    expect(size).toBeGreaterThan(16 << 20)
    expect(blocks * 512).toBeLessThan(size / 4)
    await written.discard()
    expect(left(folder)).toEqual([])
  })

  test('is gone when it is discarded, and stays when that comes after', async () => {
    const folder = temporaryFolder()
    const written = await cardImages.write(
      jobFromFiles(folder, madeFiles(1, 10)),
      join(folder, 'c.img'),
      control,
    )
    await written.publish(false)
    await written.discard()
    expect(left(folder)).toEqual(['c.img'])
  })

  test('tells how far it is, in bytes of a known total', async () => {
    const folder = temporaryFolder()
    const seen: Progress[] = []
    const job = jobFromFiles(folder, madeFiles(3, 100_000))
    await cardImages.write(job, join(folder, 'c.img'), { ...control, onProgress: (step) => seen.push(step) })
    expect(seen.length).toBeGreaterThan(0)
    for (const { done, total, unit } of seen) {
      expect(unit).toBe('bytes')
      expect(done).toBeLessThanOrEqual(total ?? 0)
    }
  })
})

describe('a name that is taken', () => {
  test('is refused before the work, unless it may be replaced', async () => {
    const folder = temporaryFolder()
    const path = join(folder, 'card.img')
    writeFileSync(path, 'mine')
    await expect(cardImages.requireTarget(path, false, 1)).rejects.toThrow(code('image/exists'))
    await expect(cardImages.requireTarget(path, true, 1)).resolves.toBeUndefined()
  })
  test('is refused after the work where it was taken meanwhile, and the other’s file stays', async () => {
    const folder = temporaryFolder()
    const path = join(folder, 'card.img')
    const written = await cardImages.write(jobFromFiles(folder, madeFiles(1, 10)), path, control)
    writeFileSync(path, 'mine')
    await expect(written.publish(false)).rejects.toThrow(code('image/exists'))
    expect(readFileSync(path, 'utf8')).toBe('mine')
    await written.discard()
    expect(left(folder)).toEqual(['card.img'])
  })
  test('of a folder or a link is never replaced', async () => {
    const folder = temporaryFolder()
    mkdirSync(join(folder, 'card.img'))
    symlinkSync('/dev/null', join(folder, 'link.img'))
    for (const name of ['card.img', 'link.img']) {
      await expect(cardImages.requireTarget(join(folder, name), true, 1)).rejects.toThrow(
        code('image/exists'),
      )
    }
  })
})

describe('a place that cannot take the image', () => {
  test.each([
    { name: 'no such folder', below: 'nowhere/card.img', code: 'image/folder-missing' },
    { name: 'a file instead of a folder', below: 'file/card.img', code: 'image/folder-missing' },
  ])('$name: told before the work', async ({ below, code: wanted }) => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, 'file'), '')
    await expect(cardImages.requireTarget(join(folder, below), false, 1)).rejects.toThrow(code(wanted))
  })

  test('more bytes than are free: told before the work, with both figures', async () => {
    const path = join(temporaryFolder(), 'card.img')
    await expect(cardImages.requireTarget(path, false, 2 ** 50)).rejects.toThrow(
      expect.objectContaining({
        code: 'image/disk-full',
        what: expect.stringContaining(String(2 ** 50)) as string,
      }),
    )
  })

  test.skipIf(process.getuid?.() === 0)(
    'a folder where one may not write: told before the work',
    async () => {
      const folder = temporaryFolder()
      chmodSync(folder, 0o500)
      await expect(cardImages.requireTarget(join(folder, 'c.img'), false, 1)).rejects.toThrow(
        code('image/no-permission'),
      )
      chmodSync(folder, 0o700)
    },
  )

  testOnSmallDisk('a disk that fills while the image is written: told, and nothing is left', async () => {
    const disk = smallDisk(1 << 20)
    const job = jobFromFiles(temporaryFolder(), madeFiles(4, 500_000))
    await expect(cardImages.write(job, join(disk, 'card.img'), control)).rejects.toThrow(
      code('image/disk-full'),
    )
    expect(readdirSync(disk)).toEqual([])
  })

  test.skipIf(process.platform === 'win32')('a limit on the size of files: told, and nothing is left', () => {
    const folder = temporaryFolder()
    const child = join(import.meta.dirname, '../support/write-card-child.ts')
    const script = `ulimit -f 2000; exec "${process.execPath}" "${child}" "${folder}" 500000`
    const { stdout, stderr } = spawnSync('sh', ['-c', script], { encoding: 'utf8' })
    expect(`${stdout}${stderr}`).toMatch(/^image\/file-limit: /)
    expect(left(folder)).toEqual([])
  })
})

describe('bytes of the store', () => {
  test.each([
    {
      name: 'changed',
      change: (path: string) => writeFileSync(path, Buffer.alloc(50_000, 1)),
      code: 'store/damaged',
    },
    { name: 'cut short', change: (path: string) => writeFileSync(path, 'x'), code: 'store/damaged' },
    { name: 'gone', change: (path: string) => rmSync(path), code: 'store/missing' },
  ])('that are $name never reach an image; the file is named', async ({ change, code: wanted }) => {
    const folder = temporaryFolder()
    const job = jobFromFiles(folder, madeFiles(3, 50_000))
    change(Object.values(job.sourcePaths)[1] ?? '')
    await expect(cardImages.write(job, join(folder, 'c.img'), control)).rejects.toThrow(
      expect.objectContaining({ code: wanted, where: '01-EMBER/S1.WAV' }),
    )
    expect(left(folder)).toEqual([])
  })
})

describe('work that ends early', () => {
  test('by the user’s wish leaves nothing', async () => {
    const folder = temporaryFolder()
    const stop = new AbortController()
    const job = jobFromFiles(folder, madeFiles(40, 200_000))
    const writing = cardImages.write(job, join(folder, 'c.img'), {
      onProgress: () => stop.abort(),
      cancel: stop.signal,
    })
    await expect(writing).rejects.toThrow(code('cancelled'))
    expect(left(folder)).toEqual([])
  })
  test('before it began is not begun', async () => {
    const folder = temporaryFolder()
    const job = jobFromFiles(folder, madeFiles(1, 10))
    const cancel = AbortSignal.abort()
    await expect(cardImages.write(job, join(folder, 'c.img'), { ...control, cancel })).rejects.toThrow(
      code('cancelled'),
    )
    expect(left(folder)).toEqual([])
  })
  test('by a kill leaves a hidden file, which the next make of that name removes', async () => {
    const folder = temporaryFolder()
    const { pid } = spawnSync('true')
    writeFileSync(join(folder, `.card.img.part.${pid}.x`), 'half')
    writeFileSync(join(folder, `.card.img.part.${process.pid}.x`), 'of a make that runs')
    writeFileSync(join(folder, '.card.img.part.mine'), 'of somebody else')
    await cardImages.requireTarget(join(folder, 'card.img'), false, 1)
    expect(left(folder).toSorted()).toEqual(
      [`.card.img.part.${process.pid}.x`, '.card.img.part.mine'].toSorted(),
    )
  })
})
