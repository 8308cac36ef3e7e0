import { createHash } from 'node:crypto'
import { readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCliHere, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCliHere([...args, '--workshop', demo.folder], { cwd: demo.base })
const json = async <T>(...args: string[]) => JSON.parse((await cli(...args, '--json')).stdout) as T
const sounds = async (act: string, ...args: string[]) => {
  const run = await cli('builds', 'sounds', act, 'EX-101', ...args)
  expect(run.stderr).toBe('')
  expect(run.code).toBe(0)
}
const soundsOf = async (font: string) =>
  new Map(
    (await json<{ sounds: { path: string; inspection: { sha256: string } }[] }>('sounds', font)).sounds.map(
      ({ path, inspection }) => [path, inspection.sha256],
    ),
  )
const shown = (fingerprint: string) => json<ResponseOf<'contents:show'>>('cards', 'show', fingerprint)
const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex')
const findingsOf = async (font: string) => {
  const report = await json<ResponseOf<'check'>>('check', '--build', 'EX-101')
  return report.fonts.find((each) => each.font === font)?.findings ?? []
}

describe('a build whose fonts are changed in single sounds', () => {
  test('carries them: one in the place of another, one added, one left out; the fonts alone do not', async () => {
    await cli('licences', 'add', 'Quiet Foundry', '--terms', 'One build.')
    const plain = await json<ResponseOf<'make'>>(
      'make',
      '--build',
      'EX-101',
      '--image',
      'plain.img',
      '--replace',
    )
    await sounds('replace', 'Ember Loom', 'clash-01.wav', 'Quiet Foundry', 'clash-01.wav')
    await sounds('add', 'Ember Loom', 'Quiet Foundry', 'deflect-01.wav')
    await sounds('leave-out', 'Ember Loom', 'swing-04.wav')

    const run = await cli('make', '--build', 'EX-101', '--image', 'changed.img', '--json')
    expect(run.code).toBe(0)
    const made = JSON.parse(run.stdout) as ResponseOf<'make'>
    expect(made.fingerprint).not.toBe(plain.fingerprint)
    expect((await cli('verify', 'changed.img')).code).toBe(0)
    const size = await json<ResponseOf<'size'>>('size', '--build', 'EX-101')
    expect(size.usedBytes).toBe(made.size.usedBytes)

    const content = await shown(made.fingerprint)
    const folder = content.fonts.find(({ font }) => font === 'Ember Loom')?.folder ?? ''
    const onCard = new Map(content.files.map(({ path, sha256 }) => [path, sha256]))
    const lender = await soundsOf('Quiet Foundry')
    expect(onCard.get(`${folder}/clash-01.wav`)).toBe(lender.get('clash-01.wav'))
    expect(onCard.get(`${folder}/deflect-02.wav`)).toBe(lender.get('deflect-01.wav'))
    const own = await soundsOf('Ember Loom')
    expect([...onCard.values()]).not.toContain(own.get('swing-04.wav'))
    expect([...onCard.values()]).not.toContain(own.get('clash-01.wav'))
    expect(content.singleSounds.map(({ kind }) => kind)).toEqual(['replaced', 'added', 'left-out'])
    expect(content.lenders).toMatchObject([{ font: 'Quiet Foundry', version: '1.1' }])
    expect((await cli('cards', 'show', made.fingerprint)).stdout).toContain(
      'Replaced     clash-01.wav of Ember Loom v2 by clash-01.wav of Quiet Foundry v1.1',
    )
    const alone = await json<ResponseOf<'make'>>('make', 'Ember Loom', '--image', 'alone.img')
    const files = (await shown(alone.fingerprint)).files.map(({ sha256 }) => sha256)
    expect(files).toContain(own.get('swing-04.wav'))
    expect(files).not.toContain(lender.get('clash-01.wav'))
  })

  test('names the font that lends them in both documents, with its licence, and not as its own', async () => {
    const image = readFileSync(join(demo.base, 'changed.img')).toString('latin1')
    const credits = /Sound fonts on this card\r\n[^\0]*/.exec(image)?.[0] ?? ''
    expect(credits).toMatch(
      /Single sounds of other fonts.*Quiet Foundry.*file [^\r]*clash-01\.wav.*file [^\r]*deflect-02\.wav.*licence: bought/s,
    )
    const record = JSON.parse(/\{"\$schema[^\0]*\}\n/.exec(image)?.[0] ?? '{}') as {
      components: { name: string; components: { name: string }[]; licenses?: unknown[] }[]
    }
    const lender = record.components.find(({ name }) => name === 'Quiet Foundry')
    expect(lender?.components).toHaveLength(2)
    expect(lender?.licenses).toHaveLength(1)
    const own = record.components.find(({ name }) => name === 'Ember Loom')
    const names = new Set(lender?.components.map(({ name }) => name))
    expect(own?.components.some(({ name }) => names.has(name))).toBe(false)
  })

  test('is made again from its record when the download is gone', async () => {
    const { fingerprint } = JSON.parse(
      (await cli('cards', 'show', 'EX-101', '--json')).stdout,
    ) as ResponseOf<'contents:show'>
    const fonts = join(demo.folder, 'demo-fonts')
    renameSync(fonts, `${fonts}-away`)
    try {
      const run = await cli('remake', fingerprint, '--image', 'changed-again.img')
      expect(run.code).toBe(0)
      expect(hashOf(join(demo.base, 'changed-again.img'))).toBe(hashOf(join(demo.base, 'changed.img')))
    } finally {
      renameSync(`${fonts}-away`, fonts)
    }
  })

  test('is judged with them: what the lent sound lacks for the board stops the card until it is prepared', async () => {
    await sounds('add', 'Ember Loom', 'Thornwick', 'boot.wav')
    const findings = await findingsOf('Ember Loom')
    expect(findings.find(({ rule }) => rule === 'bit-depth')).toMatchObject({
      severity: 'error',
      path: 'Thornwick/boot.wav',
    })
    expect(findings.find(({ rule, path }) => rule === 'licence-forbids' && path !== null)?.path).toBe(
      'Thornwick/boot.wav',
    )
    const refused = await cli('make', '--build', 'EX-101', '--image', 'refused.img')
    expect(refused.code).toBe(1)
    expect(toldLines(refused).join()).toContain('bit-depth')
    const prepared = await json<ResponseOf<'make'>>(
      ...['make', '--build', 'EX-101', '--image', 'prepared.img', '--prepare'],
    )
    const content = await shown(prepared.fingerprint)
    const original = (await soundsOf('Thornwick')).get('boot.wav')
    expect(content.files.map(({ sha256 }) => sha256)).not.toContain(original)
    const recipe = content.recipes.find(({ originalSha256 }) => originalSha256 === original)
    expect(recipe?.steps.map(({ step }) => step)).toContain('bit-depth')
    await sounds('take-back', 'Ember Loom', 'Thornwick/boot.wav')
    expect((await findingsOf('Ember Loom')).some(({ rule }) => rule === 'bit-depth')).toBe(false)
  })

  test('takes a use of the licence of the font that lends them', async () => {
    const isTakenInOther = async () => {
      const { fonts } = await json<ResponseOf<'check'>>('check', '--build', 'EX-102')
      const lender = fonts.find(({ font }) => font === 'Quiet Foundry')
      return lender?.findings.some(({ rule }) => rule === 'licence-no-seat')
    }
    expect(await isTakenInOther()).toBe(true)
    await sounds('take-back', 'Ember Loom', 'clash-01.wav')
    expect(await isTakenInOther()).toBe(true)
    await sounds('take-back', 'Ember Loom', 'deflect-01.wav')
    expect(await isTakenInOther()).toBe(false)
  })

  test.each([
    ['a font that is not in it', ['leave-out', 'EX-101', 'Thornwick', 'hum.wav'], 'Thornwick'],
    ['a sound that the font has not', ['leave-out', 'EX-101', 'Ember Loom', 'no.wav'], 'no.wav'],
    ['a sound that the other font has not', ['add', 'EX-101', 'Ember Loom', 'Thornwick', 'no.wav'], 'no.wav'],
    ['what it never said', ['take-back', 'EX-101', 'Ember Loom', 'hum.wav'], 'hum.wav'],
    [
      'a role that there is not',
      ['add', 'EX-101', 'Ember Loom', 'Thornwick', 'hum.wav', '--as', 'hmu'],
      'hum',
    ],
  ])('is refused %s, in one line', async (_what, args, told) => {
    const run = await cli('builds', 'sounds', ...args)
    expect(run.code).toBe(2)
    expect(toldLines(run)).toHaveLength(1)
    expect(toldLines(run)[0]).toContain(told)
  })
})

test('sounds of the whole card come with a font, or are lent to one, and lie in the board’s own folder', async () => {
  await cli('builds', 'add', 'EX-32', '--board', 'bench-32', '--font', 'Quiet Foundry')
  await cli('builds', 'sounds', 'add', 'EX-32', 'Quiet Foundry', 'Ember Loom', 'boot.wav')
  await cli(
    'builds',
    'sounds',
    'add',
    'EX-32',
    'Quiet Foundry',
    'Ember Loom',
    'clash-02.wav',
    '--as',
    'low-cell',
  )
  const made = await json<ResponseOf<'make'>>('make', '--build', 'EX-32', '--image', 'wide.img', '--prepare')
  const paths = (await shown(made.fingerprint)).files.map(({ path }) => path)
  expect(paths.filter((path) => path.startsWith('SYSTEM/')).sort()).toEqual([
    expect.stringMatching(/^SYSTEM\/BOOT.*\.WAV$/),
    expect.stringMatching(/^SYSTEM\/.*CELL.*\.WAV$/),
  ])
  // The companion of the font that lends stays with it.
  expect(paths.some((path) => /NOTE|READ/i.test(path))).toBe(false)
})

test('configs of a build are versions, each with the contents that carry it', async () => {
  const config = join(demo.base, 'settings.txt')
  const setTo = async (text: string) => {
    writeFileSync(config, text)
    expect((await cli('builds', 'set', 'EX-103', '--config', config)).code).toBe(0)
  }
  await cli('builds', 'set', 'EX-103', '--font', 'Glass Meridian')
  await setTo('volume 7\n')
  const first = await json<ResponseOf<'make'>>('make', '--build', 'EX-103', '--image', 'config-1.img')
  await setTo('volume 5\n')
  const { versions } = await json<ResponseOf<'builds:configs'>>('builds', 'configs', 'EX-103')
  expect(versions.map(({ number, isCurrent, contents }) => [number, isCurrent, contents])).toEqual([
    [2, true, []],
    [1, false, [first.fingerprint]],
  ])
  expect((await cli('builds', 'configs', 'EX-103', '--show', '1')).stdout).toBe('volume 7\n\n')
  expect((await cli('builds', 'configs', 'EX-103', '--show', '9')).code).toBe(2)
  expect((await shown(first.fingerprint)).config).toEqual({ fileName: 'settings.txt', text: 'volume 7\n' })
})

test('a finding that was accepted stands in the record with its reason, and is shown', async () => {
  const run = await cli(
    ...['make', 'Thornwick', '--image', 'accepted.img', '--reason', 'the client wants it raw'],
    ...['sample-rate', 'channels', 'bit-depth', 'plain-header'].flatMap((rule) => ['--accept', rule]),
    '--json',
  )
  expect(run.code).toBe(0)
  const { fingerprint } = JSON.parse(run.stdout) as ResponseOf<'make'>
  const content = await shown(fingerprint)
  expect(content.acceptedFindings).toContainEqual({
    rule: 'bit-depth',
    path: null,
    reason: 'the client wants it raw',
  })
  expect((await cli('cards', 'show', fingerprint)).stdout).toContain('bit-depth (the client wants it raw)')
})
