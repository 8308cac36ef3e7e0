import { createHash } from 'node:crypto'
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { DemoFile } from '../../app/ports/demo-folder.ts'
import { writtenDemoFolder } from '../../main/adapters/files/written-demo-folder.ts'
import { openZipFile } from '../../main/adapters/files/open-zip-file.ts'
import { plainWave } from '../support/plain-wave.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

const files: readonly DemoFile[] = [
  { path: 'about.txt', contents: () => 'Grüße\n' },
  { path: 'deep/hum.wav', contents: () => plainWave(1) },
]

test('a demo font is written as a folder, replacing what lay at its place, and nothing else', async () => {
  const folder = temporaryFolder()
  writeFiles(folder, { 'demo/Maker/One/old.wav': 'old', 'demo/Maker/Two/kept.wav': 'kept' })
  await writtenDemoFolder(join(folder, 'demo')).writeFont({ folder: 'Maker/One' }, files)
  expect(readdirSync(join(folder, 'demo/Maker/One')).toSorted()).toEqual(['about.txt', 'deep'])
  expect(readFileSync(join(folder, 'demo/Maker/One/about.txt'), 'utf8')).toBe('Grüße\n')
  expect(readFileSync(join(folder, 'demo/Maker/One/deep/hum.wav'))).toEqual(Buffer.from(plainWave(1)))
  expect(existsSync(join(folder, 'demo/Maker/Two/kept.wav'))).toBe(true)
  expect(readdirSync(folder)).toEqual(['demo'])
})

test('a demo font is written as an archive that reads back, the same bytes each time', async () => {
  const hashes: string[] = []
  for (let time = 0; time < 2; time++) {
    const folder = temporaryFolder()
    await writtenDemoFolder(join(folder, 'demo')).writeFont(
      { archive: 'Maker/One.zip', inner: 'One v2' },
      files,
    )
    const bytes = readFileSync(join(folder, 'demo/Maker/One.zip'))
    hashes.push(createHash('sha256').update(bytes).digest('hex'))
    const zip = await openZipFile(
      {
        sizeBytes: bytes.length,
        readInto(target, at) {
          const part = bytes.subarray(at, at + target.length)
          target.set(part)
          return part.length
        },
      },
      null,
    )
    expect(zip.entries.map((entry) => entry.name)).toEqual(['One v2/about.txt', 'One v2/deep/hum.wav'])
    expect(await zip.read(1, 1 << 20)).toEqual(plainWave(1))
  }
  expect(hashes[0]).toBe(hashes[1])
  // The format's dates have no zone: this archive is the same on every machine.
  expect(hashes[0]).toBe('997ba4bce794252ffef3fa5b3d2ea8bb73ef9d277023710c54f2b4fc6c00d23d')
})

test('a sound that cannot be made leaves nothing half-written', async () => {
  const folder = temporaryFolder()
  const broken: DemoFile = {
    path: 'z.wav',
    contents: () => {
      throw new RangeError('no such sound')
    },
  }
  await expect(
    writtenDemoFolder(join(folder, 'demo')).writeFont({ folder: 'One' }, [...files, broken]),
  ).rejects.toThrow('no such sound')
  expect(existsSync(join(folder, 'demo/One'))).toBe(false)
  expect(readdirSync(folder)).toEqual(['demo'])
})

test('a place that is taken by a file is told as an error of the machine', async () => {
  const folder = temporaryFolder()
  writeFiles(folder, { demo: 'a file' })
  await expect(
    writtenDemoFolder(join(folder, 'demo')).writeFont({ folder: 'One' }, files),
  ).rejects.toMatchObject({ code: 'demo/unwritable', kind: 'machine' })
  expect(statSync(join(folder, 'demo')).isFile()).toBe(true)
})
