import { randomBytes } from 'node:crypto'
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { plainWave } from '../../support/plain-wave.ts'
import { runCli, toldLines, type CliRun } from '../../support/run-cli.ts'
import { temporaryFolder, writeFiles } from '../../support/temporary-folder.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'

const demo = demoWorkshop()

/** One sentence, no stack trace. */
function expectTold(run: CliRun, code: number, words: string): void {
  expect({ code: run.code, lines: toldLines(run).length }).toEqual({ code, lines: 1 })
  expect(run.stderr).toContain(words)
  expect(run.stderr).not.toMatch(/^\s+at /m)
}

describe('a path that cannot be scanned', () => {
  test('because nothing is there', async () => {
    const folder = temporaryFolder()
    const run = await runCli(['scan', 'nowhere', '--workshop', 'w'], { cwd: folder })
    expectTold(run, 2, join(folder, 'nowhere'))
  })

  test('because it is a file and no archive', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'notes.txt': 'hello' })
    expectTold(await runCli(['scan', 'notes.txt', '--workshop', 'w'], { cwd: folder }), 2, 'notes.txt')
  })

  test('because this user may not read it', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'locked/One/hum.wav': plainWave(1) })
    mkdirSync(join(folder, 'w'))
    chmodSync(folder, 0o755)
    chmodSync(join(folder, 'w'), 0o777)
    chmodSync(join(folder, 'locked'), 0o000)
    const run = await runCli(['scan', 'locked', '--workshop', 'w'], { cwd: folder, asNobody: true })
    chmodSync(join(folder, 'locked'), 0o755)
    expectTold(run, 3, 'locked: This user may not read it.')
  })

  test('because its workshop cannot be opened, which ends the command at once', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'fonts/One/hum.wav': plainWave(1), w: 'a file' })
    expectTold(await runCli(['scan', 'fonts', '--workshop', 'w'], { cwd: folder }), 2, 'a file lies there')
  })

  test.runIf(existsSync('/proc/version'))(
    'because nothing can be made where its workshop would be',
    async () => {
      const run = await runCli(['status', '--workshop', '/proc/nothing/w'], { limits: 'ulimit -t 20;' })
      expectTold(run, 2, 'No folder can be made there.')
    },
  )

  test('because no sound is in it: exit 1, with the reason', async () => {
    const folder = temporaryFolder()
    mkdirSync(join(folder, 'empty'))
    const run = await runCli(['scan', 'empty', '--workshop', 'w'], { cwd: folder })
    expect(run.code).toBe(1)
    expect(run.stdout).toContain('no sounds were found')
  })
})

describe('bad sounds among good ones', () => {
  test('are each told with their path, and the rest is scanned', async () => {
    const folder = temporaryFolder()
    const whole = plainWave(7, 4000)
    const cuts = [1, 11, 13, 20, 43, 44, 45, 1001]
    writeFiles(folder, {
      'fonts/One/hum.wav': whole,
      'fonts/One/empty.wav': '',
      'fonts/One/noise.wav': randomBytes(5000),
      ...Object.fromEntries(cuts.map((bytes) => [`fonts/One/cut-${bytes}.wav`, whole.subarray(0, bytes)])),
    })
    const run = await runCli(['scan', 'fonts', '--json', '--workshop', 'w'], { cwd: folder })
    expect(run.code).toBe(1)
    const [root] = (JSON.parse(run.stdout) as ResponseOf<'scan'>).roots
    expect(root).toMatchObject({ editions: 1, sounds: cuts.length + 3 })
    const told = root!.problems.map((problem) => problem.path.split('/').at(-1)).toSorted()
    // What still has its format and some samples is no fault of the scan: the check finds it cut off.
    expect(told).toEqual(expect.arrayContaining(['empty.wav', 'noise.wav', 'cut-1.wav', 'cut-43.wav']))
    expect(told).not.toContain('hum.wav')
    const checked = await runCli(['check', 'One', '--json', '--workshop', 'w'], { cwd: folder })
    expect(checked.code).toBe(1)
    const { findings } = (JSON.parse(checked.stdout) as ResponseOf<'check'>).fonts[0]!
    expect(findings.filter(({ rule }) => rule === 'truncated').map(({ path }) => path)).toContain(
      'cut-1001.wav',
    )
  })
})

describe('a board file with an unknown key', () => {
  test('is refused with its line and column when it is asked for, and stands in nobody’s way else', async () => {
    writeFiles(demo.folder, {
      'boards/odd-one.yaml': 'board:\n  id: odd-one\n  title: Odd\naudio:\n  sampleRateHz: [44100]\n',
    })
    const run = await runCli(['check', '--board', 'odd-one', '--workshop', demo.folder])
    expectTold(run, 2, 'odd-one.yaml')
    expect(run.stderr).toMatch(/5[:,]/)
    expect((await runCli(['check', 'Harbour Bell', '--workshop', demo.folder])).code).toBe(0)
  })

  test('a board that nobody has is refused with the nearest one', async () => {
    const run = await runCli(['check', '--board', 'bench-45', '--workshop', demo.folder])
    expectTold(run, 2, 'Did you mean "bench-4')
  })
})

describe('a card too small', () => {
  test('is told by size with what is missing, exit 1', async () => {
    const run = await runCli(['size', 'Harbour Bell', '--card', '10MB', '--workshop', demo.folder])
    expectTold(run, 1, 'too small')
  })

  test('is told by make, which leaves no image', async () => {
    const folder = temporaryFolder()
    const run = await runCli(
      ['make', 'Harbour Bell', '--card', '10MB', '--image', 'small.img', '--workshop', demo.folder],
      { cwd: folder },
    )
    expectTold(run, 1, 'too small')
    expect(readdirSync(folder)).toEqual([])
  })
})

describe('a disk that fills while the image is written', () => {
  test('is told in one sentence, exit 3, and leaves no image under any name', async () => {
    const folder = temporaryFolder()
    const args = ['make', 'Harbour Bell', '--image', 'full.img', '--workshop', demo.folder]
    // The originals are in the store since the demo's own card, so that only the image meets the limit.
    const run = await runCli(args, { cwd: folder, limits: 'ulimit -f 20000;' })
    expectTold(run, 3, 'full.img')
    expect(readdirSync(folder)).toEqual([])
    const after = await runCli(args, { cwd: folder })
    expect(after.code).toBe(0)
  })

  test('an image in a folder that is not there is refused before any work', async () => {
    const folder = temporaryFolder()
    const run = await runCli(
      ['make', 'Harbour Bell', '--image', 'nowhere/card.img', '--workshop', demo.folder],
      { cwd: folder },
    )
    expect(run.code).not.toBe(0)
    expect(toldLines(run)).toHaveLength(1)
    expect(readdirSync(folder)).toEqual([])
  })
})

test('the demo is not mixed into a library of the user’s own', async () => {
  const folder = temporaryFolder()
  writeFiles(folder, { 'fonts/One/hum.wav': plainWave(1) })
  await runCli(['scan', 'fonts', '--workshop', 'w'], { cwd: folder })
  expectTold(await runCli(['demo', '--workshop', 'w'], { cwd: folder }), 2, 'fonts of your own')
  expect(readdirSync(join(folder, 'w'))).not.toContain('demo-fonts')
})

describe('wrong usage', () => {
  test.each([
    { args: ['scna', 'x'], words: 'Did you mean scan?' },
    { args: ['fonts', 'lst'], words: 'Did you mean list?' },
    { args: ['fonts', 'list', '--bord', 'x'], words: 'Did you mean --board?' },
    { args: ['make'], words: '--image' },
    { args: ['size', '--card', '5elephants'], words: '16GB' },
    { args: ['scan'], words: 'path' },
    { args: ['prepare'], words: 'No font was named.' },
    { args: ['prepare', '-odd'], words: 'a name that begins with a hyphen goes last, after --' },
    { args: ['prepare', 'Thornwick', '--drop', 'gian'], words: 'Did you mean "gain"?' },
    { args: ['prepare', 'Thornwick', '--drop', 'gain:clahs'], words: 'Did you mean "clash"?' },
    { args: ['prepare', 'Thornwick', 'thornwick v3'], words: 'was named twice' },
    { args: ['prepare', '--build', 'EX-110'], words: 'Did you mean "EX-10' },
    { args: ['check', 'Kolmarra/Thornwick v3'], words: 'What lies there is "Thornwick v3"' },
    { args: ['fonts', 'show', 'Harbor Bell'], words: 'Did you mean "Harbour Bell"?' },
    { args: ['builds', 'show', 'EX-110'], words: 'Did you mean "EX-10' },
    { args: ['creators', 'show', 'Varnsik'], words: 'Did you mean "Varnisk"?' },
    { args: ['scan', 'x', '--password', 'oops'], words: 'ARCHIVE=PASSWORD' },
    { args: ['licences', 'add', 'Harbour Bell', '--on', '2026-02-30'], words: 'no such day' },
    { args: ['licences', 'add', 'Harbour Bell', '--kind', 'stolen'], words: 'bought' },
    { args: ['builds', 'add', 'EX-9', '--low-limit', '3'], words: 'lies between 20 and 2000 Hz.' },
    { args: ['status', 'set', '--speaker-low-limit', '20000'], words: 'lies between 20 and 2000 Hz.' },
    { args: ['prepare', 'Thornwick', '--speaker', '20000'], words: '2000 Hz, or is `none`.' },
  ])('$args is told in one sentence, exit 2', async ({ args, words }) => {
    expectTold(await runCli([...args, '--workshop', demo.folder]), 2, words)
  })

  test('with --json the error is the one document on standard output', async () => {
    const run = await runCli(['fonts', 'show', 'Nothing', '--json', '--workshop', demo.folder])
    expect(run.code).toBe(2)
    expect(JSON.parse(run.stdout)).toMatchObject({ error: { code: 'font/unknown', where: 'Nothing' } })
  })

  test('a workshop that is a file is refused', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { taken: 'a file' })
    expectTold(await runCli(['status', '--workshop', 'taken'], { cwd: folder }), 2, 'taken')
    expect(readFileSync(join(folder, 'taken'), 'utf8')).toBe('a file')
  })

  test('a workshop where this user may not write is refused, exit 3', async () => {
    const folder = temporaryFolder()
    chmodSync(folder, 0o555)
    const run = await runCli(['status', '--workshop', 'w'], { cwd: folder, asNobody: true })
    chmodSync(folder, 0o755)
    expectTold(run, 3, 'may not write')
  })
})
