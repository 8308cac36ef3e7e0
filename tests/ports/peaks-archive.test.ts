import { mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { openPeaksPacks } from '../../main/adapters/files/peaks-packs.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { peaksArchiveSuite } from './peaks-archive-suite.ts'

const folder = mkdtempSync(join(tmpdir(), 'cardwright-peaks-'))
const opened: { close(): Promise<void> }[] = []
const open = () => {
  const packs = openPeaksPacks(join(folder, 'peaks'), () => Promise.resolve([]))
  opened.push(packs)
  return packs
}
afterAll(async () => {
  await Promise.all(opened.map((packs) => packs.close()))
  rmSync(folder, { recursive: true, force: true })
})

describe('packs in a folder', () => {
  peaksArchiveSuite(open)

  test('another archive on the same folder reads them, and writes packs of its own', async () => {
    const [one] = await open().append([{ sha256: 'a', bytes: Uint8Array.of(1) }])
    const other = open()
    const [two] = await other.append([{ sha256: 'b', bytes: Uint8Array.of(2) }])
    if (one === undefined || two === undefined) throw new Error('no place')
    expect(one.pack).not.toBe(two.pack)
    expect([...(await other.read(one))]).toEqual([1])
  })

  test('of processes that are gone are removed by one that appended, but for what is on record', async () => {
    const peaks = join(temporaryFolder(), 'peaks')
    mkdirSync(peaks)
    // No process has this number: it is above what systems give out.
    const pack = (digit: string, owner: string) =>
      `${digit.repeat(8)}-0000-0000-0000-000000000000${owner}.peaks`
    const names = {
      lost: pack('1', '.4194999'),
      recorded: pack('2', '.4194999'),
      ofAnother: pack('3', `.${process.ppid}`),
      ofBefore: pack('4', ''),
    }
    for (const name of Object.values(names)) writeFileSync(join(peaks, name), 'waveforms')
    const reader = openPeaksPacks(peaks, () => Promise.resolve([]))
    await reader.close()
    expect(readdirSync(peaks)).toHaveLength(4)
    const writer = openPeaksPacks(peaks, () => Promise.resolve([names.recorded]))
    const [place] = await writer.append([{ sha256: 'a', bytes: Uint8Array.of(1) }])
    await writer.close()
    const left = [names.recorded, names.ofAnother, names.ofBefore, place?.pack ?? '']
    expect(readdirSync(peaks).toSorted()).toEqual(left.toSorted())
  })

  test('of this very process stay, even where the clock makes them look older than it', async () => {
    const peaks = join(temporaryFolder(), 'peaks')
    const [one, other] = [0, 1].map(() => openPeaksPacks(peaks, () => Promise.resolve([])))
    const [place] = (await one?.append([{ sha256: 'a', bytes: Uint8Array.of(1) }])) ?? []
    utimesSync(join(peaks, place?.pack ?? ''), 1_000_000_000, 1_000_000_000)
    await other?.append([{ sha256: 'b', bytes: Uint8Array.of(2) }])
    await other?.close()
    expect(readdirSync(peaks)).toContain(place?.pack)
    await one?.close()
  })

  test('a folder that cannot be made is told, with how to mend it', async () => {
    writeFileSync(join(folder, 'file'), '')
    const packs = openPeaksPacks(join(folder, 'file'), () => Promise.resolve([]))
    await expect(packs.append([{ sha256: 'a', bytes: Uint8Array.of(1) }])).rejects.toMatchObject({
      code: 'peaks/unwritable',
    })
  })
})
