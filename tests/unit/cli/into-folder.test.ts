import {
  mkdirSync,
  readFileSync,
  readdirSync,
  realpathSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { openNamedLocks } from '../../../main/adapters/db/open-named-locks.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCli, runCliHere, toldLines } from '../../support/run-cli.ts'
import { smallDisk, testOnSmallDisk } from '../../support/small-disk.ts'
import { temporaryFolder } from '../../support/temporary-folder.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCliHere([...args, '--workshop', demo.folder], { cwd: demo.base })

type MadeInto = ResponseOf<'make:into'>

/** Makes a card into a folder, and gives what `--json` tells. */
async function madeInto(into: string, ...args: string[]): Promise<MadeInto> {
  const run = await cli('make', ...args, '--into', into, '--json')
  expect(run.stderr + run.stdout).toContain('fingerprint')
  return JSON.parse(run.stdout) as MadeInto
}

const verified = async (folder: string, ...args: string[]) => {
  const run = await cli('verify', folder, ...args, '--json')
  return { code: run.code, ...(JSON.parse(run.stdout) as ResponseOf<'verify'>) }
}

const contents = async () =>
  (JSON.parse((await cli('cards', 'list', '--json')).stdout) as ResponseOf<'contents:list'>).contents

describe('make --into', () => {
  test('gives the content that an image of it has, on record once', async () => {
    const image = JSON.parse(
      (await cli('make', 'Glass Meridian', '--image', 'one.img', '--json')).stdout,
    ) as ResponseOf<'make'>
    const shown = async () => (await cli('cards', 'show', image.fingerprint, '--json')).stdout
    const before = await shown()
    const made = await madeInto(temporaryFolder(), 'Glass Meridian')
    expect(made.fingerprint).toBe(image.fingerprint)
    expect(made.verified).toBe(true)
    expect(await shown()).toBe(before)
    expect((await contents()).filter(({ fingerprint }) => fingerprint === made.fingerprint)).toHaveLength(1)
  })

  test('made first as a folder, it has the hash that its image comes to have', async () => {
    const made = await madeInto(temporaryFolder(), 'Glass Meridian', 'Ember Loom')
    const shown = JSON.parse(
      (await cli('cards', 'show', made.fingerprint, '--json')).stdout,
    ) as ResponseOf<'contents:show'>
    const run = await cli('remake', made.fingerprint, '--image', 'again.img', '--json')
    expect((JSON.parse(run.stdout) as ResponseOf<'contents:remake'>).imageHash).toBe(shown.imageHash)
  })

  test('leaves what is right, takes away what another content left, and says so', async () => {
    const into = temporaryFolder()
    await madeInto(into, 'Harbour Bell', 'Ember Loom')
    const { written } = await madeInto(into, 'Harbour Bell', 'Glass Meridian')
    expect(written.filesLeft).toBeGreaterThan(15)
    expect(written.removed.some((path) => path.startsWith('02-ember-loom/'))).toBe(true)
    expect(readdirSync(into).toSorted()).toEqual([
      '01-harbour-bell',
      '02-glass-meridian',
      'CREDITS.TXT',
      'LICENCES.CDX.JSON',
    ])
    const again = await madeInto(into, 'Harbour Bell', 'Glass Meridian')
    expect(again.written).toMatchObject({ filesWritten: 0, removed: [] })
  })

  test('never removes unasked what no record knows', async () => {
    const into = temporaryFolder()
    await madeInto(into, 'Harbour Bell')
    writeFileSync(join(into, 'setup.txt'), 'the client’s own')
    writeFileSync(join(into, '01-harbour-bell', 'hum.wav'), 'changed by the client')
    const refused = await cli('make', 'Harbour Bell', '--into', into)
    expect(refused.code).toBe(1)
    expect(toldLines(refused).join()).toMatch(
      /"01-harbour-bell\/hum\.wav".*"setup\.txt"|setup\.txt.*hum\.wav/,
    )
    expect(readFileSync(join(into, 'setup.txt'), 'utf8')).toBe('the client’s own')
    const { written } = await madeInto(into, 'Harbour Bell', '--replace')
    expect(written.removed.toSorted()).toEqual(['01-harbour-bell/hum.wav', 'setup.txt'])
    expect((await verified(into)).verified).toBe(true)
  })

  test('refuses a folder with other people’s files, the home folder, the workshop and the library', async () => {
    const into = temporaryFolder()
    writeFileSync(join(into, 'holiday.jpg'), 'a picture')
    for (const [folder, code] of [
      [into, 'target/strangers'],
      ['/', 'target/system'],
      [process.env['HOME'] ?? '/root', 'target/system'],
      [demo.folder, 'target/library-folder'],
      [join(demo.folder, 'store'), 'target/library-folder'],
      [join(demo.folder, 'demo-fonts', 'Varnisk'), 'target/library-folder'],
      [join(demo.base, 'none'), 'target/missing'],
      [join(into, 'holiday.jpg'), 'target/not-a-folder'],
    ] as const) {
      const run = await cli('make', 'Harbour Bell', '--into', folder, '--json')
      expect([folder, (JSON.parse(run.stdout) as { error: { code: string } }).error.code]).toEqual([
        folder,
        code,
      ])
    }
    expect(readdirSync(into)).toEqual(['holiday.jpg'])
  })

  test('waits for nobody else who writes there: told who does', async () => {
    const into = temporaryFolder()
    const clock = { now: () => '2026-11-25T09:30:00Z' }
    const locks = openNamedLocks(demo.folder, { who: 'Kim', clock })
    const held = await locks.acquire(`target ${realpathSync(into)}`, 'writing to this card or folder')
    const run = await cli('make', 'Glass Meridian', '--into', into)
    expect(run.code).toBe(3)
    expect(toldLines(run).join()).toContain('Kim, writing to this card or folder')
    expect(readdirSync(into)).toEqual([])
    await held.release()
    expect((await madeInto(into, 'Glass Meridian')).verified).toBe(true)
  })

  test('asks where to, and takes one place only', async () => {
    expect((await cli('make', 'Harbour Bell')).code).toBe(2)
    expect((await cli('make', 'Harbour Bell', '--into', demo.base, '--image', 'x.img')).code).toBe(2)
  })

  testOnSmallDisk('refuses a card that the board cannot read, with how to format it', async () => {
    const card = smallDisk(32 << 20)
    const run = await cli('make', 'Harbour Bell', '--into', card)
    expect(run.code).toBe(1)
    expect(toldLines(run).join()).toMatch(
      /tmpfs.*FAT32.*erases everything.*Windows.*macOS.*Linux.*mkfs\.fat -F 32 -s 8/,
    )
    expect(toldLines(run)).toContain('  1. Copy off the card what is wanted.')
    expect(toldLines(run).filter((line) => line.startsWith('     - '))).toHaveLength(3)
    expect(readdirSync(card)).toEqual([])
  })
})

describe('remake --into', () => {
  test('makes a recorded content again when the download is gone', async () => {
    const { fingerprint } = await madeInto(temporaryFolder(), 'Ember Loom')
    const fonts = join(demo.folder, 'demo-fonts')
    renameSync(fonts, join(demo.base, 'away'))
    try {
      const into = temporaryFolder()
      const run = await cli('remake', fingerprint, '--into', into)
      expect(run.code).toBe(0)
      expect(run.stdout).toContain(`--against ${fingerprint}`)
      expect((await verified(into)).fingerprint).toBe(fingerprint)
    } finally {
      renameSync(join(demo.base, 'away'), fonts)
    }
  })
})

describe('verify of a folder', () => {
  test('names every missing, changed and added file, by its credits or by what is told', async () => {
    const into = temporaryFolder()
    const { fingerprint } = await madeInto(into, 'Harbour Bell')
    rmSync(join(into, '01-harbour-bell', 'boot.wav'))
    writeFileSync(join(into, '01-harbour-bell', 'hum.wav'), 'other')
    writeFileSync(join(into, 'extra.txt'), 'more')
    const found = await verified(into)
    expect(found).toMatchObject({
      code: 1,
      fingerprint,
      missing: ['01-harbour-bell/boot.wav'],
      changed: ['01-harbour-bell/hum.wav'],
      added: ['extra.txt'],
    })
    rmSync(join(into, 'CREDITS.TXT'))
    expect((await verified(into, '--against', fingerprint)).missing).toContain('CREDITS.TXT')
  })

  test('tells what an operating system left, and holds all the same', async () => {
    const into = temporaryFolder()
    await madeInto(into, 'Harbour Bell')
    mkdirSync(join(into, '.fseventsd'))
    writeFileSync(join(into, '.fseventsd', 'x'), 'x')
    writeFileSync(join(into, '01-harbour-bell', '._hum.wav'), 'x')
    const found = await verified(into)
    expect(found).toMatchObject({ code: 0, verified: true, added: [] })
    expect(found.notes.join()).toMatch(/\.fseventsd.*\._hum\.wav|\._hum\.wav.*\.fseventsd/)
    const { written } = await madeInto(into, 'Harbour Bell')
    expect(written.litterRemoved.toSorted()).toEqual(['.fseventsd', '01-harbour-bell/._hum.wav'].toSorted())
  })
})

describe('a run that is broken off', () => {
  const words = ['Harbour Bell', 'Glass Meridian', 'Ember Loom']

  test.each(['writing to the target', 'reading back'])(
    'by a kill while %s records nothing, and the next run mends it',
    async (when) => {
      const into = temporaryFolder()
      const before = (await contents()).map(({ fingerprint }) => fingerprint)
      const run = await runCli(
        ['make', ...words, '--board', 'bench-44', '--into', into, '--workshop', demo.folder],
        { cwd: demo.base, interrupt: { when, signal: 'SIGKILL' } },
      )
      expect(run.signal).toBe('SIGKILL')
      expect((await contents()).map(({ fingerprint }) => fingerprint)).toEqual(before)
      const made = await madeInto(into, ...words)
      expect(made.verified).toBe(true)
      expect((await verified(into)).added).toEqual([])
    },
    60_000,
  )

  test('by Ctrl+C leaves the folder as it was', { timeout: 60_000 }, async () => {
    const into = temporaryFolder()
    await madeInto(into, 'Harbour Bell')
    const before = readdirSync(into, { recursive: true }).toSorted()
    const run = await runCli(
      ['make', ...words, '--board', 'bench-44', '--into', into, '--workshop', demo.folder],
      { cwd: demo.base, interrupt: { when: 'writing to the target', signal: 'SIGINT' } },
    )
    // A quick machine may have it written before the signal comes.
    if (run.code !== 0) {
      expect(readdirSync(into, { recursive: true }).toSorted()).toEqual(before)
      expect((await verified(into)).verified).toBe(true)
    }
  })
})

describe('cards target', () => {
  test('judges a folder without writing to it', async () => {
    const into = temporaryFolder()
    const { fingerprint } = await madeInto(into, 'Harbour Bell')
    const report = JSON.parse(
      (await cli('cards', 'target', into, '--content', fingerprint, '--json')).stdout,
    ) as ResponseOf<'targets:judge'>
    expect(report).toMatchObject({ kind: 'folder', holds: fingerprint, refusal: null, strangers: [] })
    writeFileSync(join(into, 'mine.txt'), 'mine')
    const run = await cli('cards', 'target', into, '--board', 'bench-44')
    expect(run.code).toBe(1)
    expect(run.stdout).toContain('mine.txt')
  })
})
