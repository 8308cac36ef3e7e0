import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, readdirSync, rmSync } from 'node:fs'
import { join, relative } from 'node:path'
import { describe, expect, test } from 'vitest'
import { openImageFile } from '../../main/adapters/files/image-file.ts'
import { readCardImage } from '../../main/adapters/files/read-card-image.ts'
import { cardOnDisk, type CardOnDisk } from '../support/card-on-disk.ts'
import { CARD_CASES } from '../support/card-variety.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

/**
 * Card images held against tools that know nothing of Cardwright: dosfstools' fsck.fat, mtools, 7-Zip,
 * util-linux' sfdisk, and the library js-fatfs.
 */
const withTools = testAgainst('fsck.fat', 'mdir', 'mcopy', '7z', 'sfdisk')

function run(command: string, args: readonly string[], env: Record<string, string> = {}) {
  const result = spawnSync(command, args, {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
    env: { ...process.env, LC_ALL: 'C.UTF-8', MTOOLS_SKIP_CHECK: '1', ...env },
  })
  return { status: result.status, text: `${result.stdout}${result.stderr}` }
}

const sha256Of = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
const wanted = (card: CardOnDisk) =>
  card.files.map(({ path, bytes }) => `${sha256Of(bytes)} ${path}`).toSorted()

/** Every file below a folder with its hash, as `wanted` tells them. */
function foundBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .map((path) => `${sha256Of(readFileSync(path))} ${relative(folder, path)}`)
    .toSorted()
}

/** The volume alone, sparse: fsck.fat and 7-Zip read no partitions. */
function volumeOf(card: CardOnDisk, folder: string): string {
  const volume = join(folder, 'volume.img')
  const start = card.plan.geometry.partitionStartSector * 512
  const bytes = card.plan.geometry.partitionSectors * 512
  const copied = run('dd', [
    `if=${card.imagePath}`,
    `of=${volume}`,
    'bs=1M',
    `skip=${start}B`,
    `count=${bytes}B`,
    'conv=sparse',
    'status=none',
  ])
  if (copied.status !== 0) throw new Error(copied.text)
  run('truncate', ['-s', String(bytes), volume])
  return volume
}

/** Lines of fsck.fat 4.2 that only say what it looks at; whatever else it says is a complaint. */
const PLAIN_LINES = [
  /^fsck\.fat /,
  /^Checking (we can access the last sector|for unused clusters|free cluster summary)/,
  /^Boot sector contents:$/,
  /^System ID "CDWRIGHT"$/,
  /^Media byte 0xf8 \(hard disk\)$/,
  /^ *\d+ (bytes per (logical sector|cluster)|reserved sectors?|hidden sectors|sectors total|data clusters .*)$/,
  /^ *2 FATs, (16|32) bit entries$/,
  /^ *\d+ bytes per FAT \(= \d+ sectors\)$/,
  /^ *\d+ root directory entries$/,
  /^(First FAT|Root directory|Data area) starts? at (byte|cluster) /,
  /^63 sectors\/track, 255 heads$/,
]

function complaintsOf(text: string, volume: string): string[] {
  return text
    .trim()
    .split('\n')
    .filter((line) => !line.startsWith(`${volume}: `) && !PLAIN_LINES.some((plain) => plain.test(line)))
}

test(
  'js-fatfs reads every file of every kind of card as it was put there, in order',
  { timeout: 300_000 },
  async () => {
    for (const { name, board, sounds } of CARD_CASES) {
      const folder = temporaryFolder()
      const card = cardOnDisk(folder, sounds, board)
      const image = openImageFile(card.imagePath)
      const reading = await readCardImage(
        image,
        [],
        () => {},
        () => {},
      )
      image.close()
      expect(reading.faults, name).toEqual([])
      expect(
        reading.files.map(({ path, sha256 }) => `${sha256} ${path}`),
        name,
      ).toEqual(card.plan.files.map(({ path, sha256 }) => `${sha256} ${path}`))
      rmSync(folder, { recursive: true })
    }
  },
)

describe('reference tools', () => {
  withTools('there are at least sixty kinds of cards', () => {
    expect(CARD_CASES.length).toBeGreaterThanOrEqual(60)
  })

  withTools.each(CARD_CASES)('find nothing wrong: $name', ({ board, sounds }) => {
    const folder = temporaryFolder()
    const card = cardOnDisk(folder, sounds, board)
    const volume = volumeOf(card, folder)

    const fsck = run('fsck.fat', ['-n', '-v', volume])
    expect(fsck.status, fsck.text).toBe(0)
    expect(complaintsOf(fsck.text, volume)).toEqual([])

    const sfdisk = run('sfdisk', ['--verify', card.imagePath])
    expect(sfdisk.status, sfdisk.text).toBe(0)

    const drive = `${card.imagePath}@@${card.plan.geometry.partitionStartSector * 512}`
    const listed = run('mdir', ['-i', drive, '-/', '-b', '::'])
    expect(listed.status, listed.text).toBe(0)
    const onlyBasicPlane = card.files.every(({ path }) => [...path].every((letter) => letter.length === 1))
    // mtools knows no characters outside the basic plane: such names are compared through 7-Zip alone.
    if (onlyBasicPlane) {
      const copied = join(folder, 'mcopy')
      mkdirSync(copied)
      const mcopy = run('mcopy', ['-i', drive, '-s', '-n', '::', copied])
      expect(mcopy.status, mcopy.text).toBe(0)
      expect(foundBelow(copied)).toEqual(wanted(card))
    }

    const extracted = join(folder, '7z')
    const sevenZip = run('7z', ['x', '-y', `-o${extracted}`, volume])
    expect(sevenZip.status, sevenZip.text).toBe(0)
    expect(foundBelow(extracted)).toEqual(wanted(card))
  })
})
