import { chmodSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { runCli, toldLines, type CliOptions } from '../support/run-cli.ts'
import { noise } from '../support/signals.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'
import { wavFile } from '../support/wav-bytes.ts'

type Report = ResponseOf<'prepare'>

const unready = (seed: number, seconds = 0.4) => {
  const frames = Math.round(seconds * 48_000)
  return wavFile([noise(seed, frames, 0.1), noise(seed + 500, frames, 0.1)], { rateHz: 48_000, bits: 24 })
}

/** A workshop with two fonts that bench-44 does not play as they are. */
async function scanned(more: Readonly<Record<string, Uint8Array | string>> = {}) {
  const folder = temporaryFolder()
  const soundsOf = (seed: number) => ({
    'hum.wav': unready(seed, 1),
    'ignite-01.wav': unready(seed + 1),
    'retract-01.wav': unready(seed + 2),
    'clash-01.wav': unready(seed + 3),
    'swing-01.wav': unready(seed + 4),
  })
  writeFiles(join(folder, 'fonts', 'Ash Lantern'), { ...soundsOf(1), ...more })
  writeFiles(join(folder, 'fonts', 'Bell Quay'), soundsOf(11))
  const cli = (args: readonly string[], options: CliOptions = {}) =>
    runCli([...args, '--workshop', 'w'], { cwd: folder, ...options })
  await cli(['scan', 'fonts'])
  const prepare = async (...args: string[]) => {
    const words = ['prepare', 'Ash Lantern', 'Bell Quay', '--board', 'bench-44', '--json', ...args]
    const run = await cli(words)
    return { code: run.code, report: JSON.parse(run.stdout) as Report }
  }
  return { folder, cli, prepare }
}

test('a font with an original that is gone is not written, the other is; when it is back, the next run writes it', async () => {
  const { folder, prepare } = await scanned()
  const [original, away] = [join(folder, 'fonts/Ash Lantern/clash-01.wav'), join(folder, 'away.wav')]
  renameSync(original, away)
  const { code, report } = await prepare('--into', 'out')
  expect(code).toBe(1)
  expect(report.fonts.map((font) => font.folder)).toEqual([null, '02-bell-quay'])
  expect(report.fonts[0]?.told).toEqual(['Not written: clash-01.wav could not be prepared.'])
  expect(report.counts).toMatchObject({ made: 9, failed: 1 })
  expect(readdirSync(join(folder, 'out'))).toEqual(['02-bell-quay'])
  renameSync(away, original)
  const again = await prepare('--into', 'out')
  expect(again.code).toBe(0)
  expect(again.report.counts).toMatchObject({ made: 1, kept: 9, failed: 0 })
  expect(readdirSync(join(folder, 'out'))).toEqual(['01-ash-lantern', '02-bell-quay'])
})

test('a font with a file that nothing is to be done to, and that is gone, is not written without it', async () => {
  const { folder, prepare } = await scanned({
    'clash-02.wav': wavFile([noise(7, 20_000, 0.12)], { rateHz: 44_100 }),
  })
  const before = await prepare()
  expect(before.code).toBe(0)
  const kept = before.report.fonts[0]?.sounds.find(({ path }) => path === 'clash-02.wav')?.before.sha256 ?? ''
  rmSync(join(folder, 'fonts/Ash Lantern/clash-02.wav'))
  rmSync(join(folder, 'w', 'store', kept.slice(0, 2), kept), { force: true })
  const { code, report } = await prepare('--into', 'out')
  expect(code).toBe(1)
  expect(report.counts).toMatchObject({ kept: 10, unchanged: 1, failed: 0 })
  expect(report.fonts.map(({ verdictAfter }) => verdictAfter.errorCount)).toEqual([0, 0])
  expect(report.fonts[0]?.told.join()).toMatch(/^Not written: clash-02.wav is no longer where/)
  expect(readdirSync(join(folder, 'out'))).toEqual(['02-bell-quay'])
})

test('an empty file is written as it came', async () => {
  const { folder, prepare } = await scanned({ 'clash-02.wav': new Uint8Array() })
  const { code } = await prepare('--into', 'out')
  expect(code).toBe(1)
  expect(readFileSync(join(folder, 'out/01-ash-lantern/clash-02.wav'))).toHaveLength(0)
})

test('a card is not made where a sound could not be prepared on the way, and why is told', async () => {
  const { folder, cli } = await scanned()
  const program = join(folder, 'ffmpeg')
  mkdirSync(join(folder, 'cards'))
  writeFileSync(program, '#!/bin/sh\necho it is broken >&2\nexit 1\n')
  chmodSync(program, 0o755)
  const make = ['make', 'Ash Lantern', '--board', 'bench-44', '--prepare', '--image', 'cards/card.img']
  const run = await cli(make, { env: { CARDWRIGHT_FFMPEG: program } })
  expect(run.code).toBe(3)
  const [told = ''] = toldLines(run)
  expect(told).toMatch(
    /font "Ash Lantern", .*\.wav: This sound \(and 4 more\) could not be prepared, and no card was made: ffmpeg could not change the sample rate \(it is broken\)/,
  )
  expect(readdirSync(join(folder, 'cards'))).toEqual([])
  expect((await cli(make)).code).toBe(0)
})

describe('a copy in the workshop in which one bit has turned', () => {
  const turnBit = (path: string) => {
    const bytes = readFileSync(path)
    bytes[5000] = (bytes[5000] ?? 0) ^ 1
    writeFileSync(path, bytes)
  }

  test('is put aside by preparing, made or fetched again, and told: nothing is made of damaged bytes', async () => {
    const { folder, prepare } = await scanned()
    const { report } = await prepare()
    const [hum, clash] = ['hum.wav', 'clash-01.wav'].map((path) =>
      report.fonts[0]?.sounds.find((sound) => sound.path === path),
    )
    const copyOf = (sha256 = '') => join(folder, 'w', 'store', sha256.slice(0, 2), sha256)
    const [prepared, original] = [copyOf(hum?.after?.sha256), copyOf(clash?.before.sha256)]
    const [before, originally] = [readFileSync(prepared), readFileSync(original)]
    turnBit(prepared)
    turnBit(original)
    rmSync(copyOf(clash?.after?.sha256))
    const again = await prepare()
    expect(again.code).toBe(0)
    expect(again.report.counts).toMatchObject({ made: 2, kept: 8 })
    expect(again.report.cautions[0]).toMatch(
      /^2 copies in the workshop were damaged, were put aside \(.*damaged/,
    )
    expect(readFileSync(prepared)).toEqual(before)
    expect(readFileSync(original)).toEqual(originally)
    expect((await prepare()).report.cautions.join()).not.toContain('damaged')
  })

  test('is put aside by making, which says how to go on; and so it goes on', async () => {
    const { folder, cli, prepare } = await scanned()
    const { report } = await prepare()
    const sha256 = report.fonts[0]?.sounds[0]?.after?.sha256 ?? ''
    turnBit(join(folder, 'w', 'store', sha256.slice(0, 2), sha256))
    const make = ['make', 'Ash Lantern', '--board', 'bench-44', '--image', 'card.img']
    const run = await cli(make)
    expect(run.code).toBe(3)
    expect(toldLines(run).at(-1)).toMatch(
      /is no longer what was kept .* The damaged copy was put aside \(.*\): prepare the font again/,
    )
    // Put aside, it is told as what it is until it is made again.
    const gone = await cli(make)
    expect(gone.code).toBe(3)
    expect(toldLines(gone)).toEqual([
      expect.stringMatching(
        /: The prepared copy of this sound is not in the workshop any more. Prepare its font again, or/,
      ),
    ])
    expect((await prepare()).code).toBe(0)
    expect((await cli(make)).code).toBe(0)
  })
})
