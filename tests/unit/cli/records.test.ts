import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCliHere, toldLines } from '../../support/run-cli.ts'
import { writeFiles } from '../../support/temporary-folder.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCliHere([...args, '--workshop', demo.folder], { cwd: demo.base })
async function json<T>(...args: string[]): Promise<T> {
  const run = await cli(...args, '--json')
  expect(toldLines(run)).toEqual([])
  return JSON.parse(run.stdout) as T
}

describe('records by command', () => {
  test('who stands in the journal is the account, or whom the workshop was told', async () => {
    const who = async () => (await json<ResponseOf<'workshop:status'>>('status')).who
    const account = await who()
    expect(account).not.toBe('')
    await json('status', 'set', '--who', 'Kim at the bench')
    expect(await who()).toBe('Kim at the bench')
    await json('status', 'set', '--who', '')
    expect(await who()).toBe(account)
  })

  test('a sound that two fonts share is told, whatever its name', async () => {
    const from = join(demo.folder, 'demo-fonts/Varnisk/Harbour Bell v1.2/hum.wav')
    writeFiles(demo.base, { 'more/Copy/renamed.wav': readFileSync(from) })
    await json('scan', 'more')
    const { groups } = await json<ResponseOf<'fonts:duplicates'>>('fonts', 'duplicates')
    expect(groups.map((group) => group.sounds.map(({ font, path }) => `${font}/${path}`))).toEqual([
      ['Copy/renamed.wav', 'Harbour Bell/hum.wav'],
    ])
    expect(await json('fonts', '--duplicates')).toEqual({ groups })
    expect((await cli('fonts', '--duplicates')).stdout).toContain('renamed.wav')
    await json('roots', 'remove', 'more')
  })

  test('a creator is added, found whatever the case, changed, and not recorded twice', async () => {
    await json('creators', 'add', 'Orsolay', '--contact', 'fonts@example.org')
    const twice = await cli('creators', 'add', 'orsolay')
    expect(twice.code).toBe(2)
    const { creator } = await json<ResponseOf<'creators:change'>>(
      'creators',
      'set',
      'ORSOLAY',
      '--note',
      'answers fast',
    )
    expect(creator).toMatchObject({ name: 'Orsolay', contact: 'fonts@example.org', note: 'answers fast' })
  })

  test('a licence is added, told by fonts list, changed and removed', async () => {
    const { licence } = await json<ResponseOf<'licences:add'>>(
      'licences',
      'add',
      'Quiet Foundry',
      '--kind',
      'gift',
      '--holder',
      'My bench',
      '--on',
      '2026-04-30',
      '--order',
      'EX-7',
      '--terms',
      'one build',
    )
    expect(licence).toMatchObject({ fontName: 'Quiet Foundry', kind: 'gift', grantedOn: '2026-04-30' })
    expect(licence.conversionAllowed).toBe('unknown')
    const count = async () =>
      (await json<ResponseOf<'fonts:list'>>('fonts', 'list')).fonts.find(
        ({ font }) => font.name === 'Quiet Foundry',
      )?.licenceCount
    expect(await count()).toBe(1)
    const changed = await json<ResponseOf<'licences:change'>>('licences', 'set', licence.id, '--order', '')
    expect(changed.licence).toMatchObject({ orderReference: '', terms: 'one build', holder: 'My bench' })
    await json('licences', 'remove', licence.id)
    expect(await count()).toBe(0)
  })

  test('whether a licence allows conversion is told, shown in the list, changed, and no other word taken', async () => {
    const { licence } = await json<ResponseOf<'licences:add'>>(
      'licences',
      'add',
      'Quiet Foundry',
      '--conversion',
      'no',
    )
    expect(licence.conversionAllowed).toBe('no')
    const listed = await cli('licences', 'list', '--font', 'Quiet Foundry')
    const [head, row] = listed.stdout.split('\n').filter((line) => /^(font|Quiet)/.test(line))
    expect(row?.slice(head?.indexOf('conversion'))).toMatch(/^no\s/)
    const kept = await json<ResponseOf<'licences:change'>>('licences', 'set', licence.id, '--order', 'EX-8')
    expect(kept.licence).toMatchObject({ conversionAllowed: 'no', orderReference: 'EX-8' })
    await json('licences', 'set', licence.id, '--conversion', 'yes')
    const { licences } = await json<ResponseOf<'licences:list'>>(
      'licences',
      'list',
      '--font',
      'Quiet Foundry',
    )
    expect(licences.map(({ conversionAllowed }) => conversionAllowed)).toEqual(['yes'])
    const shown = await cli('licences', 'show', licence.id)
    expect(shown.stdout).toMatch(/conversion +yes/)
    expect(shown.stdout).toContain('A record, not legal advice.')
    expect((await cli('licences', 'set', licence.id, '--conversion', 'perhaps')).code).toBe(2)
    await json('licences', 'remove', licence.id)
  })

  test('preparing cautions by what the licence says of conversion, and not where it is allowed', async () => {
    const cautioned = async () => {
      const dryRun = ['prepare', 'Quiet Foundry', '--board', 'bench-32', '--dry-run'] as const
      const { cautions } = await json<ResponseOf<'prepare'>>(...dryRun)
      const told = (await cli(...dryRun)).stdout
      for (const caution of cautions) expect(told).toContain(`Caution: ${caution}`)
      return cautions.filter((caution) => caution.endsWith('This is a record, not legal advice.'))
    }
    const about = (words: string) => [expect.stringContaining(words) as unknown]
    expect(await cautioned()).toEqual(about('No licence is on record for Quiet Foundry'))
    const { licence } = await json<ResponseOf<'licences:add'>>('licences', 'add', 'Quiet Foundry')
    expect(await cautioned()).toEqual(about('does not say whether sounds may be converted'))
    await json('licences', 'set', licence.id, '--conversion', 'no')
    expect(await cautioned()).toEqual(about('Conversion is not allowed by the licence on record'))
    await json('licences', 'set', licence.id, '--conversion', 'yes')
    expect(await cautioned()).toEqual([])
    await json('licences', 'remove', licence.id)
  })

  test('the warning about a missing licence goes with the licence', async () => {
    const rules = async () =>
      (
        await json<ResponseOf<'fonts:show'>>('fonts', 'show', 'Quiet Foundry', '--board', 'bench-44')
      ).findings.map(({ rule }) => rule)
    expect(await rules()).toContain('licence-none')
    const { licence } = await json<ResponseOf<'licences:add'>>('licences', 'add', 'Quiet Foundry')
    expect(await rules()).not.toContain('licence-none')
    await json('licences', 'remove', licence.id)
  })

  test('a build keeps its fonts in the order told, its config as text, and its speaker’s limit', async () => {
    writeFiles(demo.base, { 'settings.txt': 'volume 70\n' })
    const { build } = await json<ResponseOf<'builds:add'>>(
      'builds',
      'add',
      'EX-200',
      '--client',
      'Client D',
      '--font',
      'Ember Loom',
      '--font',
      'Harbour Bell',
      '--low-limit',
      '220',
      '--config',
      'settings.txt',
    )
    expect(build).toMatchObject({
      boardId: 'bench-44',
      speakerLowLimitHz: 220,
      config: { fileName: 'settings.txt', text: 'volume 70\n' },
    })
    const swapped = await json<ResponseOf<'builds:change'>>(
      'builds',
      'set',
      'ex-200',
      '--font',
      'Harbour Bell',
      '--font',
      'Ember Loom',
      '--low-limit',
      '',
    )
    expect(swapped.build.fontEditionIds).toEqual(build.fontEditionIds.toReversed())
    expect(swapped.build.speakerLowLimitHz).toBeNull()
    expect(swapped.build.config).toEqual(build.config)
    const made = await json<ResponseOf<'size'>>('size', '--build', 'EX-200')
    expect(made.fonts.map((font) => font.folder)).toEqual(['01-harbour-bell', '02-ember-loom'])
  })

  test.each([
    { name: 'a code that is taken', args: ['builds', 'add', 'EX-101'] },
    { name: 'a board that nobody has', args: ['builds', 'add', 'EX-300', '--board', 'bench-99'] },
    {
      name: 'a font twice',
      args: ['builds', 'add', 'EX-301', '--font', 'Ember Loom', '--font', 'ember loom'],
    },
    { name: 'a config that is not there', args: ['builds', 'add', 'EX-302', '--config', 'nowhere.txt'] },
  ])('a build with $name is refused, and none is recorded', async ({ args }) => {
    const before = (await cli('builds', 'list')).stdout
    const run = await cli(...args)
    expect(run.code).toBe(2)
    expect((await cli('builds', 'list')).stdout).toBe(before)
  })

  test('a font’s name, version and creator are set, and a later scan leaves them as set', async () => {
    await json(
      'fonts',
      'set',
      'Ninth Anvil',
      '--name',
      'Tenth Anvil',
      '--font-version',
      '9',
      '--creator',
      'Varnisk',
    )
    const root = join(demo.folder, 'demo-fonts')
    await json('scan', root).catch(() => undefined)
    const { edition } = await json<ResponseOf<'fonts:show'>>('fonts', 'show', 'tenth anvil 9')
    expect(edition.font).toMatchObject({ name: 'Tenth Anvil', creatorName: 'Varnisk' })
    const { edition: without } = await json<ResponseOf<'fonts:set'>>(
      'fonts',
      'set',
      'Tenth Anvil',
      '--creator',
      '',
    )
    expect(without.font.creatorName).toBeNull()
  })

  test('a root that is removed leaves its fonts marked gone, with their licences', async () => {
    const run = await cli('roots', 'remove', 'workshop/demo-fonts')
    expect(run.code).toBe(0)
    const { fonts } = await json<ResponseOf<'fonts:list'>>('fonts', 'list')
    expect(fonts.every((font) => font.state === 'gone')).toBe(true)
    expect(fonts.find(({ font }) => font.name === 'Harbour Bell')?.licenceCount).toBe(1)
    const again = await cli('roots', 'remove', 'workshop/demo-fonts')
    expect(again.code).toBe(2)
  })
})
