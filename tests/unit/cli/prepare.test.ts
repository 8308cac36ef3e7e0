import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { expectDocument } from '../../support/json-document.ts'
import { plainWave } from '../../support/plain-wave.ts'
import { runCli, toldLines } from '../../support/run-cli.ts'

type Report = ResponseOf<'prepare'>

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })

async function prepare(...args: string[]): Promise<Report> {
  const run = await cli('prepare', ...args, '--json')
  return expectDocument('prepare', run.stdout) as Report
}

/** Every file below a folder with its hash. */
function filesBelow(folder: string): ReadonlyMap<string, string> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  const files = names.filter((name) => statSync(join(folder, name)).isFile())
  return new Map(
    files.sort().map((name) => [
      name,
      createHash('sha256')
        .update(readFileSync(join(folder, name)))
        .digest('hex'),
    ]),
  )
}

const stored = () => filesBelow(join(demo.folder, 'store'))
const fonts = ['Harbour Bell', 'Ninth Anvil', 'Quiet Foundry', 'Thornwick']

describe('preparing the fonts of a card', () => {
  test('a dry run tells the recipes and makes nothing', async () => {
    const report = await prepare(...fonts, '--board', 'bench-32', '--dry-run')
    expect(report.counts).toMatchObject({ made: 0, kept: 0, failed: 0 })
    expect(report.counts.planned).toBe(report.fonts.reduce((sum, { sounds }) => sum + sounds.length, 0))
    const originals = new Set(report.fonts.flatMap(({ sounds }) => sounds.map(({ before }) => before.sha256)))
    const others = [...stored().values()].filter((sha256) => !originals.has(sha256))
    const again = await prepare(...fonts, '--board', 'bench-32', '--dry-run')
    expect(again.counts).toEqual(report.counts)
    expect([...stored().values()].filter((sha256) => !originals.has(sha256))).toEqual(others)
  })

  test('makes every font ready, even with the others, and leaves the originals as they were', async () => {
    const before = filesBelow(join(demo.folder, 'demo-fonts'))
    const report = await prepare(...fonts, '--board', 'bench-32', '--report', 'page.html')
    expect(report.fonts.map(({ verdictAfter }) => verdictAfter.word)).toEqual(fonts.map(() => 'ready'))
    expect(report.spreadBeforeLu).toBeGreaterThan(10)
    expect(report.spreadAfterLu).toBeLessThanOrEqual(report.allowedSpreadLu ?? 0)
    for (const { sounds } of report.fonts) {
      for (const { state, after, steps, path } of sounds) {
        expect(state, path).toBe('made')
        expect(after, path).toMatchObject({ sampleRateHz: 32_000, bitDepth: 16, channels: 1 })
        for (const { reason } of steps) expect(reason, path).not.toBe('')
      }
    }
    expect(filesBelow(join(demo.folder, 'demo-fonts'))).toEqual(before)
    const page = readFileSync(join(demo.base, 'page.html'), 'utf8')
    expect(page).toContain('<svg')
    for (const font of fonts) expect(page).toContain(font)
    expect(page).not.toContain(demo.folder)
  })

  test('the list of fonts tells what a card would get, and what it is of originals', async () => {
    const listed = await cli('fonts', 'list', '--board', 'bench-32', '--json')
    const rows = (JSON.parse(listed.stdout) as ResponseOf<'fonts:list'>).fonts
    for (const { font, verdict, preparedVerdict } of rows) {
      if (fonts.includes(font.name)) expect(preparedVerdict?.word, font.name).toBe('ready')
      else expect(preparedVerdict, font.name).toBeNull()
      if (font.name === 'Thornwick') expect(verdict?.word).toBe('fixable')
    }
    expect((await cli('fonts', 'list', '--board', 'bench-32')).stdout).toContain('ready by prepared copies')
    expect((await cli('fonts', 'list', '--board', 'bench-44')).stdout).not.toContain('prepared copies')
  })

  test('a font is shown and checked as it came, and as a card would get it', async () => {
    const shown = await cli('fonts', 'show', 'Thornwick', '--board', 'bench-32')
    expect(shown.stdout).toMatch(/For bench-32: ready by prepared copies/)
    expect(shown.stdout).toContain('Of its originals:')
    const checked = (...more: string[]) => cli('check', 'Thornwick', '--board', 'bench-32', ...more)
    expect((await checked()).code).toBe(1)
    expect((await checked('--prepared')).code).toBe(0)
  })

  test('a second run does nothing', async () => {
    const before = stored()
    const report = await prepare(...fonts, '--board', 'bench-32')
    expect(report.counts).toMatchObject({ made: 0, planned: 0, failed: 0 })
    expect(stored()).toEqual(before)
  })

  test('another word on one step redoes only its sounds, and is kept', async () => {
    const one = await prepare(...fonts, '--board', 'bench-32', '--drop', 'gain:music.wav')
    expect(one.counts.made).toBe(0)
    const changed = await prepare('Quiet Foundry', '--board', 'bench-32', '--set', 'gain=3:clash')
    expect(changed.counts.made).toBe(1)
    const clash = changed.fonts[0]?.sounds.find(({ role }) => role === 'clash')
    expect(clash?.steps).toContainEqual(expect.objectContaining({ step: 'gain', numbers: { gainDb: 3 } }))
    expect((await prepare('Quiet Foundry', '--board', 'bench-32')).counts.made).toBe(0)
    const told = await cli('prepare', 'Quiet Foundry', '--board', 'bench-32', '--dry-run')
    expect(told.stdout).toMatch(/clash.*44100 → 32000 Hz.*LUFS/)
    expect(told.stdout).toMatch(/^ {2}Quiet Foundry v1\.1, clash: gain set to 3 dB$/m)
  })

  test('words on steps are taken back one by one, or all', async () => {
    const before = await prepare('Quiet Foundry', '--board', 'bench-32')
    const tried = await prepare('Quiet Foundry', '--board', 'bench-32', '--forget', 'gain:clash', '--dry-run')
    expect(tried.choices.map(({ role }) => role)).not.toContain('clash')
    expect(await prepare('Quiet Foundry', '--board', 'bench-32', '--dry-run')).toMatchObject({
      choices: expect.arrayContaining([
        expect.objectContaining({ step: 'gain', role: 'clash', value: 3 }),
      ]) as unknown,
    })
    const forgotten = await prepare('Quiet Foundry', '--board', 'bench-32', '--forget', 'gain:clash')
    expect(forgotten.choices.map(({ role }) => role)).not.toContain('clash')
    await prepare('Quiet Foundry', '--board', 'bench-32', '--set', 'gain=3:clash')
    const reset = await prepare('Quiet Foundry', '--board', 'bench-32', '--reset')
    expect(reset.counts.made).toBe(0)
    const clashOf = ({ fonts }: Report) => fonts[0]?.sounds.find(({ role }) => role === 'clash')
    expect(clashOf(reset)?.steps).not.toEqual(clashOf(before)?.steps)
  })

  test('written as folders in the naming of the board, they are found ready, and nothing is left to do', async () => {
    const run = await cli('prepare', ...fonts, '--board', 'bench-32', '--into', 'cards')
    expect(run.code).toBe(0)
    expect(run.stdout).toContain(`  Written as ${join(demo.base, 'cards', '00_HARBOUR_B')}`)
    const written = filesBelow(join(demo.base, 'cards'))
    expect([...written.keys()]).toContain('00_HARBOUR_B/HUM.WAV')
    await cli('scan', 'cards')
    const [font] = (await prepare('00_HARBOUR_B', '--board', 'bench-32')).fonts
    expect(font?.verdictAfter.word).toBe('ready')
    expect(new Set(font?.sounds.map(({ state }) => state))).toEqual(new Set(['unchanged']))
    const again = () => cli('prepare', ...fonts, '--board', 'bench-32', '--into', 'cards')
    expect((await again()).code).toBe(0)
    expect(filesBelow(join(demo.base, 'cards'))).toEqual(written)
    writeFileSync(join(demo.base, 'cards', '00_HARBOUR_B', 'HUM.WAV'), 'another hum')
    const changed = filesBelow(join(demo.base, 'cards'))
    const twice = await again()
    expect(twice.code).toBe(2)
    expect(twice.stderr).toContain('nothing is overwritten')
    expect(filesBelow(join(demo.base, 'cards'))).toEqual(changed)
  })

  test('a card takes the prepared sounds', async () => {
    const made = await cli('make', 'Thornwick', '--board', 'bench-32', '--image', 'thornwick.img', '--json')
    expect(made.code).toBe(0)
    expect((JSON.parse(made.stdout) as ResponseOf<'make'>).verified).toBe(true)
    const { fingerprint, imageHash } = JSON.parse(made.stdout) as ResponseOf<'make'>
    // Made again from the bytes that are kept: nothing is prepared anew, so ffmpeg is not needed.
    const remade = await runCli(
      ['remake', fingerprint, '--image', 'again.img', '--json', '--workshop', demo.folder],
      { cwd: demo.base, env: { CARDWRIGHT_FFMPEG: '/nowhere/ffmpeg' } },
    )
    expect(remade.code).toBe(0)
    expect((JSON.parse(remade.stdout) as ResponseOf<'contents:remake'>).imageHash).toBe(imageHash)
    const other = await cli('make', 'Ember Loom', '--board', 'bench-32', '--image', 'ember.img')
    expect(other.code).toBe(1)
    expect(existsSync(join(demo.base, 'ember.img'))).toBe(false)
    const onTheWay = await cli(
      'make',
      'Ember Loom',
      '--board',
      'bench-32',
      '--prepare',
      '--image',
      'ember.img',
    )
    expect(onTheWay.code).toBe(0)
  })

  test('a card whose fonts are prepared on the way tells what is to be minded, as prepare does', async () => {
    const asked = ['Thornwick', '--board', 'bench-44', '--json']
    const prepared = await cli('prepare', ...asked)
    const made = await cli('make', ...asked, '--prepare', '--image', 'minded.img')
    const { cautions } = JSON.parse(made.stdout) as ResponseOf<'make'>
    expect(cautions.join()).toMatch(/does not say whether sounds may be converted/)
    expect(cautions).toEqual((JSON.parse(prepared.stdout) as ResponseOf<'prepare'>).cautions)
    const again = ['Thornwick', '--board', 'bench-44', '--image', 'thornwick-2.img']
    const inWords = await cli('make', ...again, '--prepare')
    expect(inWords.stdout).toContain(`Caution: ${cautions[0]}`)
    const asItIs = await cli('make', ...again, '--image', 'thornwick-3.img')
    expect(asItIs.stdout).not.toContain('Caution:')
  })

  test('what would be done is not told as done, and a word taken back that nobody said is told', async () => {
    const args = ['Thornwick', '--board', 'bench-32', '--forget', 'trim', '--forget', 'gain:swing']
    const tried = await cli('prepare', ...args, '--dry-run', '--report', 'dry.html')
    expect(tried.stdout).toMatch(/^Thornwick v3, as it came: fixable/)
    expect(tried.stdout).toMatch(/^sound +what is wrong +what would be done +before → after$/m)
    expect(toldLines(tried)).toEqual([
      'Note: no word on trim is kept; nothing to take back.',
      'Note: no word on gain for swing is kept; nothing to take back.',
      `The page with all fonts is ${join(demo.base, 'dry.html')}.`,
    ])
    expect(readFileSync(join(demo.base, 'dry.html'), 'utf8')).toContain('would do</title>')
  })

  test('sounds without a role are named: they are not prepared', async () => {
    const folder = join(demo.base, 'Odd Yard')
    mkdirSync(folder)
    writeFileSync(join(folder, 'hum.wav'), plainWave(1, 44_100))
    writeFileSync(join(folder, 'qzx.wav'), plainWave(2, 4000))
    await cli('scan', 'Odd Yard')
    const tried = await cli('prepare', 'Odd Yard', '--board', 'bench-32', '--dry-run')
    expect(tried.stdout).toContain('  Role not known: qzx.wav. Without a role a sound is not prepared')
  })

  test('what cannot be asked for is refused in a sentence', async () => {
    const wrong = [
      ['--set', 'trim=3'],
      ['--set', 'gain=400'],
      ['--drop', 'trim:no-such.wav'],
      ['--drop', 'loudness'],
      ['--speaker', 'loud'],
    ]
    for (const args of wrong) {
      const run = await cli('prepare', 'Thornwick', '--board', 'bench-32', ...args)
      expect(run.code, args.join(' ')).toBe(2)
      expect(run.stderr).not.toContain('    at ')
    }
  })
})

describe('a run that is broken off', () => {
  const many = ['Harbour Bell', 'Glass Meridian', 'Ember Loom', '--board', 'bench-48']

  test.each(['SIGKILL', 'SIGINT'] as const)(
    'by %s leaves nothing half-written and goes on where it was',
    async (signal) => {
      const board = signal === 'SIGKILL' ? many : [...many.slice(0, 3), '--board', 'bench-32']
      const run = await runCli(['prepare', ...board, '--workshop', demo.folder], {
        cwd: demo.base,
        interrupt: { when: 'preparing: 0 of', signal },
      })
      expect(run.code === 0).toBe(false)
      for (const [name, sha256] of stored()) {
        if (!name.startsWith('incoming')) expect(name.split(/[/\\]/).at(-1)).toBe(sha256)
      }
      const report = await prepare(...board)
      expect(report.counts.failed).toBe(0)
      expect(report.fonts.every(({ verdictAfter }) => verdictAfter.errorCount === 0)).toBe(true)
      expect(readdirSync(join(demo.folder, 'scratch'))).toEqual([])
      expect(readdirSync(join(demo.folder, 'store', 'incoming'))).toEqual([])
    },
  )
})
