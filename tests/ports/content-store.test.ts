import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ContentStore } from '../../app/ports/content-store.ts'
import { contentStore } from '../../main/adapters/files/content-store.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const bytes = new TextEncoder().encode('a sound')
const sha256 = createHash('sha256').update(bytes).digest('hex')

function opened(): { readonly store: ContentStore; readonly folder: string; readonly file: string } {
  const folder = temporaryFolder()
  const file = join(folder, 'original.wav')
  writeFileSync(file, bytes)
  return { store: contentStore(join(folder, 'store')), folder: join(folder, 'store'), file }
}

/** All files below the store. */
function filesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile())
    .map((each) => each.name)
}

describe('the content store', () => {
  test('has nothing before anything entered, not even a folder', async () => {
    const { store } = opened()
    expect(await store.has(sha256)).toBe(false)
    expect(await store.pathOf(sha256)).toBeUndefined()
  })

  test.each(['keepFile', 'keepBytes'] as const)('keeps bytes by their hash (%s)', async (way) => {
    const { store, folder, file } = opened()
    await (way === 'keepFile' ? store.keepFile(file, sha256) : store.keepBytes(bytes, sha256))
    expect(await store.pathOf(sha256)).toBe(join(folder, sha256.slice(0, 2), sha256))
    expect(readFileSync((await store.pathOf(sha256)) ?? '')).toEqual(Buffer.from(bytes))
    expect(filesOf(folder)).toEqual([sha256])
  })

  test('refuses bytes that are not what they are said to be, and keeps nothing of them', async () => {
    const { store, folder, file } = opened()
    const other = createHash('sha256').update('other').digest('hex')
    await expect(store.keepFile(file, other)).rejects.toMatchObject({ code: 'store/changed', where: file })
    await expect(store.keepBytes(bytes, other)).rejects.toMatchObject({ code: 'store/changed' })
    expect(filesOf(folder)).toEqual([])
  })

  test('does not read again what it has', async () => {
    const { store, file } = opened()
    await store.keepFile(file, sha256)
    rmSync(file)
    await store.keepFile(file, sha256)
    expect(await store.has(sha256)).toBe(true)
  })

  test('takes the same bytes from two places at once', async () => {
    const { store, folder, file } = opened()
    await Promise.all([
      store.keepFile(file, sha256),
      store.keepBytes(bytes, sha256),
      store.keepFile(file, sha256),
    ])
    expect(filesOf(folder)).toEqual([sha256])
  })

  test('tells of a file that is gone, and of a pipe in its place without waiting for it', async () => {
    const { store, file } = opened()
    rmSync(file)
    await expect(store.keepFile(file, sha256)).rejects.toMatchObject({ code: 'store/unreadable' })
    if (process.platform === 'win32') return
    execFileSync('mkfifo', [file])
    await expect(store.keepFile(file, sha256)).rejects.toMatchObject({ code: 'store/unreadable' })
  })

  test('clears away what a process that is gone had half written', async () => {
    const { store, folder, file } = opened()
    mkdirSync(join(folder, 'incoming'), { recursive: true })
    // No process has this number: it is above what systems give out.
    writeFileSync(join(folder, 'incoming', '.4194999.x.part'), 'half')
    writeFileSync(join(folder, 'incoming', `.${process.pid}.x.part`), 'under way')
    await store.keepFile(file, sha256)
    expect(readdirSync(join(folder, 'incoming'))).toEqual([`.${process.pid}.x.part`])
  })

  test('takes nothing but a hash for a name', async () => {
    const { store } = opened()
    await expect(store.keepBytes(bytes, '../../escape')).rejects.toThrow(RangeError)
  })

  test('tells where it cannot be written', async () => {
    const { folder, file } = opened()
    writeFileSync(folder, 'a file where the store should be')
    await expect(contentStore(folder).keepFile(file, sha256)).rejects.toMatchObject({
      code: 'store/unwritable',
    })
  })
})

describe('a copy that is looked at', () => {
  test('is put aside where its bytes are others, and its place is free for whole ones', async () => {
    const { store, folder, file } = opened()
    await store.keepFile(file, sha256)
    const path = join(folder, sha256.slice(0, 2), sha256)
    writeFileSync(path, 'a sounD')
    const aside = await contentStore(folder).putAsideDamaged(sha256)
    expect(aside).toBe(join(folder, 'damaged', sha256))
    expect(readFileSync(aside ?? '', 'utf8')).toBe('a sounD')
    expect(await store.has(sha256)).toBe(false)
    await store.keepFile(file, sha256)
    expect(readFileSync(path, 'utf8')).toBe('a sound')
  })

  test('stays where it is whole, or where there is none', async () => {
    const { store, folder, file } = opened()
    expect(await store.putAsideDamaged(sha256)).toBeNull()
    await store.keepFile(file, sha256)
    expect(await contentStore(folder).putAsideDamaged(sha256)).toBeNull()
    expect(filesOf(folder)).toEqual([sha256])
  })

  test('is not read again by the process that kept it, unless that is told', async () => {
    const { store, folder, file } = opened()
    await store.keepFile(file, sha256)
    writeFileSync(join(folder, sha256.slice(0, 2), sha256), 'a sounD')
    expect(await store.putAsideDamaged(sha256)).toBeNull()
    expect(await store.putAsideDamaged(sha256, 'again')).not.toBeNull()
  })
})
