import { createHash } from 'node:crypto'
import {
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCli, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
const json = async <T>(...args: string[]) => JSON.parse((await cli(...args, '--json')).stdout) as T
const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex')
const fonts = join(demo.folder, 'demo-fonts')

/** Folder of a demo font, wherever the demo keeps it. */
function folderOf(fontName: string): string {
  const found = readdirSync(fonts, { recursive: true, withFileTypes: true }).find(
    (entry) => entry.isDirectory() && entry.name.startsWith(fontName),
  )
  if (found === undefined) throw new Error(`the demo has no folder for ${fontName}`)
  return join(found.parentPath, found.name)
}

describe('a card made again', () => {
  test('is the same byte for byte in another folder, time zone, locale and process', async () => {
    await cli('make', 'Harbour Bell', '--image', 'here.img')
    const elsewhere = join(demo.base, 'else where')
    mkdirSync(elsewhere)
    const run = await runCli(
      ['make', 'Harbour Bell', '--image', 'there.img', '--json', '--workshop', demo.folder],
      { cwd: elsewhere, env: { TZ: 'Pacific/Chatham', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' } },
    )
    expect(run.code).toBe(0)
    expect(hashOf(join(elsewhere, 'there.img'))).toBe(hashOf(join(demo.base, 'here.img')))
  })

  test('needs no download: the originals were kept with the first one', async () => {
    const first = await json<ResponseOf<'make'>>('make', 'Ember Loom', '--image', 'kept-1.img')
    const away = join(demo.base, 'away')
    renameSync(fonts, away)
    try {
      const second = await json<ResponseOf<'make'>>('make', 'Ember Loom', '--image', 'kept-2.img')
      expect(second.fingerprint).toBe(first.fingerprint)
      expect(hashOf(join(demo.base, 'kept-2.img'))).toBe(hashOf(join(demo.base, 'kept-1.img')))
    } finally {
      renameSync(away, fonts)
    }
  })

  test('carries the licences of its day, and the one made before still verifies', async () => {
    const before = await json<ResponseOf<'make'>>('make', 'Glass Meridian', '--image', 'day-1.img')
    const added = await cli(
      'licences',
      'add',
      'Glass Meridian',
      '--kind',
      'gift',
      '--terms',
      'a second grant',
    )
    expect(added.code).toBe(0)
    const after = await json<ResponseOf<'make'>>('make', 'Glass Meridian', '--image', 'day-2.img')
    expect(after.fingerprint).toBe(before.fingerprint)
    expect(readFileSync(join(demo.base, 'day-2.img')).includes('a second grant')).toBe(true)
    expect((await cli('verify', 'day-1.img')).code).toBe(0)
    expect((await cli('verify', 'day-2.img')).code).toBe(0)
  })
})

describe('bytes that are not what was recorded never reach a card', () => {
  test('a sound that changed after the scan, of a font that was not kept, is told, and no image is left', async () => {
    // A font that no record names, since what was kept makes its card whatever becomes of the folder.
    cpSync(folderOf('Quiet Foundry'), join(demo.base, 'fresh', 'Slow Ferry'), { recursive: true })
    const hum = join(demo.base, 'fresh', 'Slow Ferry', 'hum.wav')
    const whole = readFileSync(hum)
    writeFileSync(hum, Buffer.concat([whole.subarray(0, -2), Buffer.of(1, 0)]))
    expect((await cli('scan', 'fresh')).code).toBe(0)
    const original = readFileSync(hum)
    const spoilt = Buffer.from(original)
    spoilt[2000] = (spoilt[2000] ?? 0) ^ 1
    writeFileSync(hum, spoilt)
    const run = await cli('make', 'Slow Ferry', '--image', 'changed.img')
    writeFileSync(hum, original)
    expect(run.code).toBe(3)
    expect(toldLines(run).join()).toMatch(/Slow Ferry.*hum\.wav.*Scan its folder again/)
    expect(readdirSync(demo.base).filter((name) => name.includes('changed.img'))).toEqual([])
  })

  test('a bit that flipped in the store is found while it is copied', async () => {
    await cli('make', 'Harbour Bell', '--image', 'whole.img')
    const hum = createHash('sha256')
      .update(readFileSync(join(folderOf('Harbour Bell'), 'hum.wav')))
      .digest('hex')
    const kept = join(demo.folder, 'store', hum.slice(0, 2), hum)
    const bytes = readFileSync(kept)
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 4
    rmSync(kept)
    writeFileSync(kept, bytes)
    const run = await cli('make', 'Harbour Bell', '--image', 'flipped.img')
    expect(run.code).toBe(3)
    expect(toldLines(run).join()).toMatch(/font "Harbour Bell", .*hum\.wav: .*no longer what was kept/)
    const aside = join(demo.folder, 'store', 'damaged', hum)
    expect(toldLines(run).join()).toContain(`put aside (${aside})`)
    expect(readFileSync(aside)).toEqual(bytes)
    expect(existsSync(kept)).toBe(false)
    expect(readdirSync(demo.base).filter((name) => name.includes('flipped.img'))).toEqual([])
    expect((await cli('make', 'Harbour Bell', '--image', 'mended.img')).code).toBe(0)
  })
})

describe('verify', () => {
  test('names every missing, changed and added file of a folder', async () => {
    const made = await json<ResponseOf<'make'>>('make', 'Harbour Bell', '--image', 'for-folder.img')
    const [font] = made.fonts
    const card = join(demo.base, 'card')
    const target = join(card, font?.folder ?? '')
    mkdirSync(card)
    cpSync(folderOf('Harbour Bell'), target, { recursive: true })
    rmSync(join(target, 'hum.wav'))
    writeFileSync(join(target, 'ignite-01.wav'), 'no sound')
    writeFileSync(join(card, 'holiday.txt'), 'who put this here?')
    const run = await cli('verify', 'card', '--against', made.fingerprint, '--json')
    expect(run.code).toBe(1)
    const report = JSON.parse(run.stdout) as ResponseOf<'verify'>
    expect(report.missing).toContain(`${font?.folder}/hum.wav`)
    expect(report.missing).toContain('CREDITS.TXT')
    expect(report.changed).toEqual([`${font?.folder}/ignite-01.wav`])
    expect(report.added).toContain('holiday.txt')
  })

  test('names every missing, changed and added file of an image, whatever its label says', async () => {
    const one = await json<ResponseOf<'make'>>('make', 'Harbour Bell', 'Ember Loom', '--image', 'one.img')
    const two = await json<ResponseOf<'make'>>('make', 'Harbour Bell', 'Glass Meridian', '--image', 'two.img')
    const run = await cli('verify', 'two.img', '--against', one.fingerprint, '--json')
    expect(run.code).toBe(1)
    const report = JSON.parse(run.stdout) as ResponseOf<'verify'>
    const filesOf = async (fingerprint: string) =>
      (await json<ResponseOf<'contents:show'>>('cards', 'show', fingerprint)).files.map(({ path }) => path)
    const [wanted, there] = await Promise.all([filesOf(one.fingerprint), filesOf(two.fingerprint)])
    expect(report.missing.toSorted()).toEqual(wanted.filter((path) => !there.includes(path)).toSorted())
    expect(report.added.toSorted()).toEqual(there.filter((path) => !wanted.includes(path)).toSorted())
    expect(report.changed.toSorted()).toEqual(['CREDITS.TXT', 'LICENCES.CDX.JSON'])
    expect(report.missing.length).toBeGreaterThan(10)
  })

  test.each([
    ['random bytes', () => Buffer.alloc(100_000, 7), 2],
    ['an empty file', () => Buffer.alloc(0), 2],
  ])('says of %s that it is no card', async (name, bytes, code) => {
    writeFileSync(join(demo.base, `${name}.img`), bytes())
    const run = await cli('verify', `${name}.img`)
    expect(run.code).toBe(code)
    expect(toldLines(run)).toHaveLength(1)
    expect(toldLines(run)[0]).toMatch(/no card image/)
  })

  test('an image whose file system is damaged does not hold, in words', async () => {
    await cli('make', 'Harbour Bell', '--image', 'damaged.img')
    const path = join(demo.base, 'damaged.img')
    const image = readFileSync(path)
    // Both FATs of the partition at 4 MiB, from its reserved sectors (offset 14) on.
    const start = 4 << 20
    const fatAt = start + image.readUInt16LE(start + 14) * 512
    image.fill(0xa5, fatAt + 8, fatAt + 4096)
    writeFileSync(path, image)
    const run = await cli('verify', 'damaged.img', '--json')
    expect(run.code).toBe(1)
    const report = JSON.parse(run.stdout) as ResponseOf<'verify'>
    expect(report.verified).toBe(false)
    expect(report.faults.length + report.missing.length + report.changed.length).toBeGreaterThan(0)
  })
})
