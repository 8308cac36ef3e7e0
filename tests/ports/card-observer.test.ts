import { mkdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { clusterOffset } from '../../app/cards/geometry.ts'
import { AppError, toReport } from '../../app/errors/app-error.ts'
import type { RunControl, Progress } from '../../app/ports/progress.ts'
import { cardObserver } from '../../main/adapters/files/card-observer.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { cardOnDisk, madeUpBytes, type CardOnDisk } from '../support/card-on-disk.ts'
import { plainWave } from '../support/plain-wave.ts'
import { boardOf } from '../support/random-cards.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const inspector = openWorkerInspector()
afterAll(() => inspector.close())
const observer = cardObserver(inspector)
const control: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }

const sounds = [
  { path: '01-ember/hum.wav', bytes: plainWave(1, 40_000) },
  { path: '01-ember/clash with a long name.wav', bytes: plainWave(2) },
  { path: '01-ember/notes.txt', bytes: madeUpBytes(100, 3) },
  { path: '02-tide/swing/01.wav', bytes: plainWave(4, 3000, 44_100) },
  { path: '02-tide/broken.wav', bytes: madeUpBytes(700, 5) },
  { path: '02-tide/empty.wav', bytes: new Uint8Array(0) },
  { path: 'System Volume Information/x.wav', bytes: plainWave(6) },
  { path: 'settings.ini', bytes: Buffer.from('volume=3\n') },
]

function made(fileSystem: 'fat16' | 'fat32', clusterBytes: number): CardOnDisk {
  return cardOnDisk(temporaryFolder(), sounds, boardOf({ fileSystems: [fileSystem], clusterBytes }))
}

/** What is told of an image that is refused. */
async function refusal(imagePath: string): Promise<{ code: string; what: string }> {
  const error: unknown = await observer.observe(imagePath, control).catch((thrown: unknown) => thrown)
  expect(error).toBeInstanceOf(AppError)
  expect((error as AppError).where).toBe(imagePath)
  const { code, what } = toReport(error)
  return { code, what }
}

describe('the image of a card', () => {
  test.each([
    ['fat16', 2048],
    ['fat32', 512],
  ] as const)(
    'of %s shows the files its folder shows, and how it is cut',
    async (fileSystem, clusterBytes) => {
      const { imagePath, files, plan } = made(fileSystem, clusterBytes)
      const folder = temporaryFolder()
      for (const { path, bytes } of files) {
        mkdirSync(dirname(join(folder, path)), { recursive: true })
        writeFileSync(join(folder, path), bytes)
      }
      const seen: Progress[] = []
      const fromImage = await observer.observe(imagePath, {
        ...control,
        onProgress: (each) => seen.push(each),
      })
      const fromFolder = await observer.observe(folder, control)
      const byPath = (a: { path: string }, b: { path: string }) => (a.path < b.path ? -1 : 1)
      expect(fromImage.files.toSorted(byPath)).toEqual(fromFolder.files.toSorted(byPath))
      expect(fromImage.files.map((file) => file.path)).not.toContain('System Volume Information/x.wav')
      expect(
        fromImage.files.find((file) => file.path === '01-ember/hum.wav')?.inspection?.facts,
      ).toMatchObject({
        sampleRateHz: 22_050,
        frames: 40_000,
      })
      expect(fromImage.volume).toMatchObject({ fileSystem, clusterBytes, partitionTable: 'mbr' })
      const alignmentBytes = fromImage.volume?.alignmentBytes ?? 0
      expect((plan.geometry.partitionStartSector * 512) % alignmentBytes).toBe(0)
      expect(fromImage.volume?.sizeBytes).toBe(readFileSync(imagePath).length)
      expect(seen.at(-1)).toMatchObject({ done: 5, total: 5, unit: 'files' })
    },
  )

  test('gives its files in the order of its directories', async () => {
    const { imagePath, plan } = made('fat16', 2048)
    const { files } = await observer.observe(imagePath, control)
    const inFolder = (paths: readonly string[]) => paths.filter((path) => path.startsWith('01-ember/'))
    expect(inFolder(files.map((file) => file.path))).toEqual(inFolder(plan.files.map((file) => file.path)))
  })

  test('that ends too early is refused in one sentence', async () => {
    const { imagePath } = made('fat16', 2048)
    const whole = readFileSync(imagePath).length
    truncateSync(imagePath, whole - 512 * 100)
    const { code, what } = await refusal(imagePath)
    expect(code).toBe('observe/not-a-card-image')
    expect(what).toMatch(/^It is no whole image of a card: it ends after \d+ of \d+ bytes\.$/)
  })

  test('with a broken chain of clusters is refused by the name of the file', async () => {
    const { imagePath, plan } = made('fat16', 2048)
    const bytes = readFileSync(imagePath)
    const hum = plan.files.find(({ path }) => path === '01-ember/hum.wav')
    const { geometry } = plan
    const table = (geometry.partitionStartSector + geometry.reservedSectors) * 512
    bytes.writeUInt16LE(0xffff, table + 2 * (hum?.firstCluster ?? 0))
    writeFileSync(imagePath, bytes)
    const { code, what } = await refusal(imagePath)
    expect(code).toBe('observe/not-a-card-image')
    expect(what).toContain('01-ember/hum.wav')
  })

  test('whose folders hold each other is refused', async () => {
    const { imagePath, plan } = made('fat16', 2048)
    const bytes = readFileSync(imagePath)
    const ember = plan.folders.find(({ path }) => path === '01-ember')
    const at = clusterOffset(plan.geometry, ember?.firstCluster ?? 0)
    for (let slot = at + 64; bytes[slot] !== 0; slot += 32) {
      if (bytes[slot + 11] === 0x0f) continue
      bytes[slot + 11] = 0x10
      bytes.writeUInt16LE(ember?.firstCluster ?? 0, slot + 26)
    }
    writeFileSync(imagePath, bytes)
    expect((await refusal(imagePath)).code).toMatch(/^observe\/(not-a-card-image|too-many-files)$/)
  })

  test.each([
    ['noise', madeUpBytes(100_000, 9)],
    ['no bytes', new Uint8Array(0)],
    ['a sound', plainWave(3)],
  ])('that holds %s is none', async (_, bytes) => {
    const path = join(temporaryFolder(), 'odd.img')
    writeFileSync(path, bytes)
    expect(await refusal(path)).toEqual({
      code: 'observe/not-a-card-image',
      what: 'It is no whole image of a card: there is no FAT16 or FAT32 in it.',
    })
  })

  test('is left as soon as the user wishes', async () => {
    const cancel = new AbortController()
    const stop = { onProgress: () => cancel.abort(), cancel: cancel.signal }
    await expect(observer.observe(made('fat16', 2048).imagePath, stop)).rejects.toThrow(
      expect.objectContaining({ code: 'cancelled' }) as Error,
    )
  })
})

test('what is not there is told as such', async () => {
  expect((await refusal(join(temporaryFolder(), 'absent.img'))).code).toBe('observe/not-a-folder')
})
