import { createHash } from 'node:crypto'
import { readFileSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { expectDocument } from '../../support/json-document.ts'
import { runCli, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex')
const fonts = join(demo.folder, 'demo-fonts')

async function made(...args: string[]): Promise<ResponseOf<'make'>> {
  return JSON.parse((await cli('make', ...args, '--json')).stdout) as ResponseOf<'make'>
}

describe('a content that is on record', () => {
  test('is made again byte for byte when the download is gone', async () => {
    const { fingerprint, imageHash } = await made('Harbour Bell', '--image', 'first.img')
    const away = join(demo.base, 'away')
    renameSync(fonts, away)
    try {
      const run = await cli('remake', fingerprint.toLowerCase(), '--image', 'again.img', '--json')
      expect(run.code).toBe(0)
      const report = expectDocument('remake', run.stdout) as ResponseOf<'contents:remake'>
      expect(report).toMatchObject({ fingerprint, imageHash, verified: true })
      expect(hashOf(join(demo.base, 'again.img'))).toBe(hashOf(join(demo.base, 'first.img')))
    } finally {
      renameSync(away, fonts)
    }
  })

  test('is made again from the library where the store has lost a sound', async () => {
    const { fingerprint } = await made('Ember Loom', '--image', 'before.img')
    loseASound(demo.folder)
    const run = await cli('remake', fingerprint, '--image', 'after.img')
    expect(run.code).toBe(0)
    expect(hashOf(join(demo.base, 'after.img'))).toBe(hashOf(join(demo.base, 'before.img')))
  })

  test('is refused in words where neither store nor library has the bytes, and nothing is left', async () => {
    const { fingerprint } = await made('Glass Meridian', '--image', 'lost.img')
    const away = join(demo.base, 'away')
    renameSync(fonts, away)
    loseASound(demo.folder)
    try {
      const run = await cli('remake', fingerprint, '--image', 'never.img')
      expect(run.code).toBe(3)
      expect(toldLines(run).join()).toMatch(/no longer/)
      expect(readdirSync(demo.base).filter((name) => name.includes('never'))).toEqual([])
    } finally {
      renameSync(away, fonts)
    }
  })

  test('never replaces a file unasked', async () => {
    const { fingerprint } = await made('Harbour Bell', '--image', 'there.img')
    expect((await cli('remake', fingerprint, '--image', 'there.img')).code).toBe(2)
    expect((await cli('remake', fingerprint, '--image', 'there.img', '--replace')).code).toBe(0)
  })

  test('that nobody knows is told', async () => {
    const run = await cli('remake', '0000000000', '--image', 'none.img')
    expect(run.code).toBe(2)
    expect(toldLines(run).join()).toContain('0000000000')
  })
})

describe('cards show and cards diff', () => {
  test('tell what is on a card, file by file', async () => {
    const { fingerprint, size } = await made('Harbour Bell', '--image', 'shown.img')
    const run = await cli('cards', 'show', fingerprint, '--json')
    const shown = expectDocument('cards-show', run.stdout) as ResponseOf<'contents:show'>
    expect(shown.fonts.map(({ font }) => font)).toEqual(['Harbour Bell'])
    expect(shown.files.at(-1)?.kind).toBe('licences')
    expect(shown).toMatchObject({ usedBytes: size.usedBytes, freeBytes: size.freeBytes })
    expect(shown.fonts.map(({ slot, usedBytes }) => [slot, usedBytes])).toEqual(
      size.fonts.map(({ slot, usedBytes }) => [slot, usedBytes]),
    )
    expect((await cli('cards', 'show', fingerprint)).stdout).toContain('Harbour Bell')
  })

  test('tell fonts that are on one card only, and those that have another number', async () => {
    const one = await made('Harbour Bell', 'Ember Loom', '--image', 'one.img')
    const two = await made('Ember Loom', 'Harbour Bell', 'Glass Meridian', '--image', 'two.img')
    const run = await cli('cards', 'diff', one.fingerprint, two.fingerprint, '--json')
    const diff = expectDocument('cards-diff', run.stdout) as ResponseOf<'contents:diff'>
    expect(diff.fontsOnlyInA).toEqual([])
    expect(diff.fontsOnlyInB.map(({ font }) => font)).toEqual(['Glass Meridian'])
    expect(diff.fontsMoved.map(({ slotInA, slotInB }) => [slotInA, slotInB])).toEqual([
      [1, 2],
      [2, 1],
    ])
    expect(diff.filesMoved.length).toBeGreaterThan(0)
    expect(diff.filesOnlyInA).toEqual([])
    const same = await cli('cards', 'diff', one.fingerprint, one.fingerprint)
    expect(same.stdout).toContain('No difference')
  })
})

/** Removes the largest thing from the store: a sound, never a document. */
function loseASound(workshop: string): void {
  const store = join(workshop, 'store')
  const kept = readdirSync(store, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .toSorted((a, b) => statSync(b).size - statSync(a).size)
  for (const path of kept.slice(0, 40)) rmSync(path)
}
