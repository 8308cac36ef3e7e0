import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { demoWorkshop } from '../support/demo-workshop.ts'
import { runCli, toldLines } from '../support/run-cli.ts'
import { startCli } from '../support/start-child.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { runCommand } from '../torture/run-command.ts'

// Several real processes at one workshop.

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex')
/** The command line with a clock that stands still at a time of its own: a past one, since a clock ahead of the disk's makes what is new look left behind. */
const at = (now: string, ...args: string[]) =>
  runCommand([...args, '--workshop', demo.folder], { temporaryFolder: demo.base, arming: { now } })

describe('two makes at once', () => {
  test('of the same card both succeed, and their images are the same, whatever their clocks say', async () => {
    const image = (name: string) => join(demo.base, name)
    const fonts = ['Ember Loom', 'Harbour Bell', '--board', 'bench-44']
    const runs = await Promise.all([
      at('2026-01-15T08:00:00Z', 'make', ...fonts, '--image', image('one.img'), '--json'),
      at('2026-01-15T09:30:00Z', 'make', ...fonts, '--image', image('two.img'), '--json'),
    ])
    expect(runs.map(({ code, stderr }) => (code === 0 ? '' : stderr))).toEqual(['', ''])
    const [one, two] = runs.map(({ stdout }) => JSON.parse(stdout) as ResponseOf<'make'>)
    expect(one?.fingerprint).toBe(two?.fingerprint)
    expect(hashOf(image('two.img'))).toBe(hashOf(image('one.img')))
    const shown = JSON.parse((await cli('cards', 'show', one?.fingerprint ?? '', '--json')).stdout) as object
    expect(shown).toMatchObject({ imageHash: one?.imageHash })
    expect((await cli('verify', 'one.img')).code).toBe(0)
    expect((await cli('verify', 'two.img')).code).toBe(0)
  })

  test('that prepare their fonts on the way take their turn, and both succeed', async () => {
    const make = (...args: string[]) => cli('make', ...args, '--board', 'bench-32', '--prepare')
    const runs = await Promise.all([
      make('Thornwick', 'Quiet Foundry', '--image', 'turn-1.img'),
      make('Quiet Foundry', 'Thornwick', '--image', 'turn-2.img'),
    ])
    expect(runs.map(({ code, stderr }) => (code === 0 ? '' : stderr))).toEqual(['', ''])
    expect((await cli('verify', 'turn-1.img')).code).toBe(0)
    expect((await cli('verify', 'turn-2.img')).code).toBe(0)
  })

  test('to one name make one image: the second is told that it is there', async () => {
    const make = (font: string) => cli('make', font, '--board', 'bench-44', '--image', 'same.img')
    const runs = await Promise.all([make('Ember Loom'), make('Harbour Bell')])
    expect(runs.map(({ code }) => code).toSorted()).toEqual([0, 2])
    expect(runs.flatMap(toldLines).join()).toContain('There is already a file of this name.')
    expect((await cli('verify', 'same.img')).code).toBe(0)
  })
})

describe('two scans of one root', () => {
  test('are not done at once: the second is told who is at it and since when, and the first goes on', async () => {
    const workshop = temporaryFolder()
    const fonts = join(demo.folder, 'demo-fonts')
    const first = startCli('scan', fonts, '--workshop', workshop)
    await first.says('reading sounds')
    first.process.kill('SIGSTOP')
    const second = await runCli(['scan', fonts, '--workshop', workshop])
    const elsewhere = join(demo.base, 'another root')
    mkdirSync(elsewhere)
    const other = await runCli(['scan', elsewhere, '--workshop', workshop])
    first.process.kill('SIGCONT')
    await first.gone
    expect(second.code).toBe(3)
    const sentence = `scanning ${fonts} \\(process ${first.process.pid}\\) has been at it since \\d{4}-\\d\\d-\\d\\dT`
    expect(toldLines(second).join()).toMatch(new RegExp(sentence))
    // An empty folder has nothing to find, and that is all that is told of it.
    expect(other.code).toBe(1)
    expect(first.process.exitCode).toBe(0)
    expect((await runCli(['scan', fonts, '--workshop', workshop])).code).toBe(0)
  })
})
