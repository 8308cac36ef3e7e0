import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import type { ByteSource } from '../../app/ports/bytes.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import { clusterOffset } from '../../app/cards/geometry.ts'
import { cardReader } from '../../main/adapters/files/card-reader.ts'
import { identifyImage, readCardImage } from '../../main/adapters/files/read-card-image.ts'
import { cardOnDisk, madeUpBytes, type CardOnDisk } from '../support/card-on-disk.ts'
import { sha256Of } from '../support/node-hasher.ts'
import { boardOf } from '../support/random-cards.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

const control: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }
const board = boardOf({ fileSystems: ['fat16'], clusterBytes: 2048 })
const sounds = [
  { path: '01-ember/hum.wav', bytes: madeUpBytes(10_000, 1) },
  { path: '01-ember/clash with a long name.wav', bytes: madeUpBytes(5000, 2) },
  { path: '01-ember/deeper/notes.txt', bytes: madeUpBytes(100, 3) },
  { path: '02-tide/EMPTY.WAV', bytes: new Uint8Array(0) },
]

function inMemory(bytes: Uint8Array): ByteSource {
  return {
    sizeBytes: bytes.length,
    readInto(target, at) {
      const piece = bytes.subarray(at, at + target.length)
      target.set(piece)
      return piece.length
    },
  }
}

const nothing = () => {}

let card: CardOnDisk
let image: Buffer
beforeAll(() => {
  const folder = mkdtempSync(join(tmpdir(), 'cardwright-test-'))
  card = cardOnDisk(folder, sounds, board)
  image = readFileSync(card.imagePath)
  return () => rmSync(folder, { recursive: true })
})

describe('an image', () => {
  test('is known by its label and its credits', async () => {
    const identity = await cardReader.identify(card.imagePath)
    expect(identity.kind).toBe('image')
    expect(identity.label).toBe(card.stamp.label)
    expect(identity.texts.map(({ path }) => path)).toEqual(['CREDITS.TXT'])
    expect(identity.texts[0]?.text).toContain(card.stamp.label)
  })

  test('gives every file with its hash in the order of the directories, and the hashes of raw stretches', async () => {
    const stretch = { offset: 512, sizeBytes: 1_500_000 }
    const beyond = { offset: image.length - 10, sizeBytes: 20 }
    const reading = await cardReader.read(card.imagePath, [stretch, beyond], control)
    expect(reading.faults).toEqual([])
    expect(reading.files.map(({ path, sha256 }) => [path, sha256])).toEqual(
      card.files.map(({ path, bytes }) => [path, sha256Of(bytes)]),
    )
    expect(reading.stretchHashes).toEqual([sha256Of(image.subarray(512, 1_500_512)), null])
  })

  test('that is no card gives no label and a fault in words', async () => {
    const path = join(temporaryFolder(), 'noise.img')
    writeFileSync(path, madeUpBytes(100_000, 9))
    expect(await cardReader.identify(path)).toEqual({ kind: 'image', label: null, texts: [] })
    const { faults, files } = await cardReader.read(path, [], control)
    expect(faults).toEqual([expect.stringMatching(/no FAT|cannot be read/)])
    expect(files).toEqual([])
  })

  test('of no bytes is no card either', async () => {
    const path = join(temporaryFolder(), 'empty.img')
    writeFileSync(path, '')
    expect((await cardReader.read(path, [], control)).faults).toHaveLength(1)
  })

  test('that ends too early tells which files it cost, and gives the rest', async () => {
    const { plan } = card
    const clash = plan.files.find(({ path }) => path.includes('clash'))
    const cut = image.subarray(0, clusterOffset(plan.geometry, clash?.firstCluster ?? 0))
    const reading = await readCardImage(inMemory(cut), [], nothing, nothing)
    expect(reading.files.map(({ path }) => path)).toContain('01-ember/hum.wav')
    expect(reading.faults.some((fault) => fault.includes('clash with a long name.wav'))).toBe(true)
  })

  test('whose folders hold each other is read to an end, and told', async () => {
    const damaged = Buffer.from(image)
    const { geometry, folders: planned } = card.plan
    const ember = planned.find(({ path }) => path === '01-ember')
    const at = clusterOffset(geometry, ember?.firstCluster ?? 0)
    // Each short entry of the folder's files becomes a folder that starts where the folder itself does.
    for (let slot = at + 64; damaged[slot] !== 0; slot += 32) {
      if (damaged[slot + 11] === 0x0f) continue
      damaged[slot + 11] = 0x10
      damaged.writeUInt16LE(ember?.firstCluster ?? 0, slot + 26)
    }
    const reading = await readCardImage(inMemory(damaged), [], nothing, nothing)
    expect(reading.faults.join(' ')).toMatch(/without end|deeper than/)
  }, 120_000)

  test('with any bytes changed in its tables is read to an end, without a fault of ours', async () => {
    const tables =
      (64 << 10) + (card.plan.geometry.partitionStartSector + card.plan.geometry.reservedSectors) * 512
    const change = fc.record({
      at: fc.oneof(
        fc.integer({ min: 446, max: 511 }),
        fc.integer({ min: 4 << 20, max: (4 << 20) + 64 }),
        fc.integer({ min: tables - (64 << 10), max: tables }),
        fc.integer({ min: 8 << 20, max: (8 << 20) + 40_000 }),
      ),
      value: fc.nat({ max: 255 }),
    })
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 12, size: 'max' }), async (changes) => {
        const damaged = Buffer.from(image)
        for (const { at, value } of changes) damaged[at] = value
        const identity = await identifyImage(inMemory(damaged))
        expect(identity.kind).toBe('image')
        const reading = await readCardImage(inMemory(damaged), [], nothing, nothing)
        for (const fault of reading.faults) expect(fault).toMatch(/\.$/)
      }),
      { numRuns: 200 },
    )
  }, 120_000)
})

describe('a folder', () => {
  test('gives every file with its hash, and is known by its credits', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, {
      '01-ember/hum.wav': 'hum',
      'CREDITS.TXT': 'Content 0123456789',
      'picture.png': 'png',
    })
    const identity = await cardReader.identify(folder)
    expect(identity).toEqual({
      kind: 'folder',
      label: null,
      texts: [{ path: 'CREDITS.TXT', text: 'Content 0123456789' }],
    })
    const { files, faults } = await cardReader.read(folder, [], control)
    expect(faults).toEqual([])
    expect(files.map(({ path, sha256 }) => `${path} ${sha256}`).toSorted()).toEqual([
      `01-ember/hum.wav ${sha256Of(Buffer.from('hum'))}`,
      `CREDITS.TXT ${sha256Of(Buffer.from('Content 0123456789'))}`,
      `picture.png ${sha256Of(Buffer.from('png'))}`,
    ])
  })
})

test('what is not there is told as such', async () => {
  const target = join(temporaryFolder(), 'nothing.img')
  const wanted = expect.objectContaining({ code: 'verify/not-found', where: target }) as Error
  await expect(cardReader.identify(target)).rejects.toThrow(wanted)
  await expect(cardReader.read(target, [], control)).rejects.toThrow(wanted)
})

test('reading ends when the user wishes', async () => {
  const cancel = AbortSignal.abort()
  await expect(cardReader.read(card.imagePath, [], { ...control, cancel })).rejects.toThrow(
    expect.objectContaining({ code: 'cancelled' }) as Error,
  )
})
