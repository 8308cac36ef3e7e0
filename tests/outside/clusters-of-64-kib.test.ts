import { execFileSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from 'vitest'
import { cardReader } from '../../main/adapters/files/card-reader.ts'
import { madeUpBytes } from '../support/card-on-disk.ts'
import { sha256Of } from '../support/node-hasher.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const control = { onProgress: () => {}, cancel: new AbortController().signal }

// Clusters of 64 KiB stand in no specification; cards that came so are read, and none is written so.
testAgainst('mkfs.fat', 'mcopy').each([
  { fat: 16, sizeMib: 600 },
  { fat: 32, sizeMib: 4200 },
])('a card of 64 KiB clusters is read back whole: FAT$fat', async ({ fat, sizeMib }) => {
  const folder = temporaryFolder()
  const image = join(folder, 'card.img')
  execFileSync('truncate', ['-s', `${sizeMib}M`, image])
  execFileSync('mkfs.fat', ['-F', String(fat), '-s', '128', image], { stdio: 'ignore' })
  const font = join(folder, 'Ember Loom')
  mkdirSync(font)
  const files = [0, 1, 65_535, 65_536, 65_537, 300_001].map((sizeBytes) => ({
    name: `a sound of ${sizeBytes} bytes.wav`,
    bytes: madeUpBytes(sizeBytes, sizeBytes),
  }))
  for (const { name, bytes } of files) writeFileSync(join(font, name), bytes)
  execFileSync('mcopy', ['-s', '-i', image, font, '::'])

  const { files: read, faults } = await cardReader.read(image, [], control)
  expect(faults).toEqual([])
  const byPath = new Map(read.map(({ path, sha256 }) => [path, sha256]))
  expect(byPath.size).toBe(files.length)
  for (const { name, bytes } of files) expect(byPath.get(`Ember Loom/${name}`), name).toBe(sha256Of(bytes))
})
