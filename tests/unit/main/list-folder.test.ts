import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { homedir, tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { listFolder } from '../../../main/list-folder.ts'

const base = mkdtempSync(join(tmpdir(), 'cardwright-list-'))
const names = (list: readonly { readonly name: string }[]) => list.map(({ name }) => name)

beforeAll(() => {
  for (const folder of ['Font 10', 'font 9', '.hidden', 'Zebra']) mkdirSync(join(base, folder))
  for (const file of ['card.img', 'CARD2.IMG', 'fonts.zip', 'note.txt']) writeFileSync(join(base, file), 'x')
  symlinkSync(join(base, 'Zebra'), join(base, 'linked'))
  symlinkSync(join(base, 'nowhere'), join(base, 'dead'))
})
afterAll(() => rmSync(base, { recursive: true, force: true }))

describe('a folder that is looked into', () => {
  test('shows its folders as people count, links among them, and nothing hidden', async () => {
    const { folders, files, path, parent, isCut } = await listFolder({ path: base, kind: 'folder' })
    expect(names(folders)).toEqual(['font 9', 'Font 10', 'linked', 'Zebra'])
    expect(files).toEqual([])
    expect(join(parent!, path.slice(parent!.length))).toBe(path)
    expect(isCut).toBe(false)
  })

  test.each([
    { kind: 'archive', files: ['fonts.zip'] },
    { kind: 'image-to-read', files: ['card.img', 'CARD2.IMG'] },
    { kind: 'image-to-write', files: ['card.img', 'CARD2.IMG'] },
  ] as const)('shows the files that can be chosen as $kind', async ({ kind, files }) => {
    const listed = await listFolder({ path: base, kind })
    expect(names(listed.files)).toEqual(files)
    expect(listed.files[0]?.path).toBe(join(base, files[0]))
  })

  test('begins at home, and the root has nothing above it', async () => {
    const home = await listFolder({ path: null, kind: 'folder' })
    expect(home.path).toBe(homedir())
    const root = home.places.find(({ name }) => name === 'This computer')!
    expect((await listFolder({ path: root.path, kind: 'folder' })).parent).toBeNull()
  })

  test.each(['no-such', 'note.txt'])('that is none is told in words: %s', async (name) => {
    await expect(listFolder({ path: join(base, name), kind: 'folder' })).rejects.toMatchObject({
      code: 'scan/no-such-path',
      where: join(base, name),
    })
  })
})
