import { closeSync, openSync, readFileSync, readdirSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCli, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
const json = async <T>(...args: string[]) => JSON.parse((await cli(...args, '--json')).stdout) as T

describe('from a folder of fonts to a verified card', () => {
  test('a second scan reads nothing that did not change', async () => {
    const [root] = (await json<ResponseOf<'scan'>>('scan', join(demo.folder, 'demo-fonts'))).roots
    expect(root).toMatchObject({ editions: 6, added: 0, changed: 0, gone: 0, filesRead: 0, problems: [] })
  })

  test('check exits with 0 for fonts that are ready and with 1 for one that is not', async () => {
    expect((await cli('check', 'Harbour Bell', 'Ember Loom', '--board', 'bench-44')).code).toBe(0)
    const run = await cli('check', 'Thornwick', '--board', 'bench-44')
    expect(run.code).toBe(1)
    expect(run.stdout).toContain('Thornwick v3: fixable: 4 errors')
    expect(run.stdout).toContain('[sample-rate]')
  })

  test('size says to the byte what make writes', async () => {
    const size = await json<ResponseOf<'size'>>('size', 'ember loom', 'Glass Meridian', '--board', 'bench-44')
    const made = await json<ResponseOf<'make'>>('make', 'ember loom', 'Glass Meridian', '--image', 'two.img')
    expect(made.size).toEqual(size)
    expect(readFileSync(join(demo.base, 'two.img')).length).toBe(size.imageBytes)
    expect(made.imagePath).toBe(join(demo.base, 'two.img'))
    expect(made.verified).toBe(true)
  })

  test('a size as printed on a card is lessened, and told', async () => {
    const run = await cli('size', '--build', 'EX-103', '--card', '1GB')
    expect(run.code).toBe(0)
    expect(run.stdout).toContain('960000000 bytes')
    expect(run.stdout).toContain('less 4 %')
  })

  test('a font that is not ready is refused with the rules in the way, and no image is left', async () => {
    const run = await cli('make', '--build', 'EX-102', '--image', 'not-ready.img')
    expect(run.code).toBe(1)
    expect(toldLines(run)).toHaveLength(1)
    expect(run.stderr).toContain('"Thornwick" (bit-depth, channels, plain-header, sample-rate)')
    expect(readdirSync(demo.base)).not.toContain('not-ready.img')
  })

  test('findings that are accepted by name with a reason let it through, and only with one', async () => {
    const accept = ['bit-depth:boot.wav', 'channels', 'plain-header', 'sample-rate'].flatMap((rule) => [
      '--accept',
      rule,
    ])
    const without = await cli('make', 'Thornwick', '--image', 'accepted.img', ...accept)
    expect(without.code).toBe(2)
    expect(without.stderr).toContain('--reason')
    const run = await cli(
      'make',
      'Thornwick',
      '--image',
      'accepted.img',
      ...accept,
      '--reason',
      'a test card',
    )
    expect(run.code).toBe(0)
  })

  test('an image is not replaced unless told', async () => {
    expect((await cli('make', 'Harbour Bell', '--image', 'once.img')).code).toBe(0)
    const refused = await cli('make', 'Harbour Bell', '--image', 'once.img')
    expect(refused.code).toBe(2)
    expect((await cli('make', 'Harbour Bell', '--image', 'once.img', '--replace')).code).toBe(0)
  })

  test('verify holds for the image as made, and names the file of a changed byte', async () => {
    await cli('make', 'Harbour Bell', '--image', 'spoilt.img')
    const whole = await cli('verify', 'spoilt.img')
    expect(whole.code).toBe(0)
    expect(whole.stdout).toContain('every hash as recorded')
    const path = join(demo.base, 'spoilt.img')
    const at = readFileSync(path).lastIndexOf(Buffer.from('RIFF')) + 1000
    const handle = openSync(path, 'r+')
    writeSync(handle, Buffer.from([0x55, 0xaa, 0x55]), 0, 3, at)
    closeSync(handle)
    const run = await cli('verify', 'spoilt.img', '--json')
    expect(run.code).toBe(1)
    const report = JSON.parse(run.stdout) as ResponseOf<'verify'>
    expect(report.verified).toBe(false)
    expect(report.changed).toHaveLength(1)
  })

  test('what was made is listed with its fonts in order', async () => {
    const { contents } = await json<ResponseOf<'contents:list'>>('cards', 'list')
    expect(contents.find((content) => content.build === 'EX-101')?.fonts).toEqual([
      'Harbour Bell',
      'Ember Loom',
      'Glass Meridian',
    ])
  })

  test('relative paths are those of the folder the user stands in, under npm too', async () => {
    const run = await runCli(['make', 'Harbour Bell', '--image', 'from-npm.img', '--json'], {
      cwd: '/',
      env: { INIT_CWD: demo.base, CARDWRIGHT_WORKSHOP: 'workshop' },
    })
    expect(run.code).toBe(0)
    expect((JSON.parse(run.stdout) as ResponseOf<'make'>).imagePath).toBe(join(demo.base, 'from-npm.img'))
  })

  test('Ctrl+C stops a make, says so in one sentence and leaves no image', async () => {
    const run = await runCli(
      ['make', 'Harbour Bell', 'Ember Loom', '--image', 'cancelled.img', '--workshop', demo.folder],
      { cwd: demo.base, interrupt: { when: 'writing the image', signal: 'SIGINT' } },
    )
    // On a fast machine the image may be done before the signal is heard; then it is whole.
    const left = readdirSync(demo.base).filter((name) => name.includes('cancelled.img'))
    if (run.code === 0) expect(left).toEqual(['cancelled.img'])
    else {
      expect(run.code).toBe(3)
      expect(toldLines(run)).toHaveLength(1)
      expect(left).toEqual([])
    }
  })
})
