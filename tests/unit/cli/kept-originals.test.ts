import { createHash } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { expect, test } from 'vitest'
import type { RequestOf, ResponseOf } from '../../../app/contract/calls.ts'
import type { Core } from '../../../app/contract/core.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import { STORE_LOCK } from '../../../app/usecases/while-originals-stay.ts'
import { openNamedLocks } from '../../../main/adapters/db/open-named-locks.ts'
import { systemClock } from '../../../main/machine.ts'
import { openWorkshop } from '../../../main/workshop.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { plainBuild } from '../../support/plain-build.ts'
import { runCliHere, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCliHere([...args, '--workshop', demo.folder], { cwd: demo.base })
const json = async <T>(...args: string[]) => JSON.parse((await cli(...args, '--json')).stdout) as T
const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex')
const isStored = (sha256: string) => existsSync(join(demo.folder, 'store', sha256.slice(0, 2), sha256))

/** A font like a demo one, but for its last sample in each sound, so that no byte of it is known. */
async function freshFont(
  name: string,
  like = 'Quiet Foundry',
): Promise<{ folder: string; hashes: string[] }> {
  const fonts = join(demo.folder, 'demo-fonts')
  const found = readdirSync(fonts, { recursive: true, withFileTypes: true }).find(
    (entry) => entry.isDirectory() && entry.name.startsWith(like),
  )
  const folder = join(demo.base, 'fresh', name)
  cpSync(join(found?.parentPath ?? '', found?.name ?? ''), folder, { recursive: true })
  const hashes: string[] = []
  for (const file of readdirSync(folder)) {
    const whole = readFileSync(join(folder, file))
    const mark = createHash('sha256').update(name).digest().subarray(0, 1)
    writeFileSync(join(folder, file), Buffer.concat([whole.subarray(0, -2), mark, Buffer.of(0)]))
    hashes.push(hashOf(join(folder, file)))
  }
  expect((await cli('scan', folder)).code).toBe(0)
  return { folder, hashes }
}

test('a licence or build that names a font first brings its originals in, and tells the room they take', async () => {
  const first = await freshFont('Slow Ferry')
  expect(first.hashes.some(isStored)).toBe(false)
  const added = await json<ResponseOf<'licences:add'>>('licences', 'add', 'Slow Ferry', '--kind', 'gift')
  expect(first.hashes.every(isStored)).toBe(true)
  expect(added.kept.fonts).toMatchObject([{ font: 'Slow Ferry', files: first.hashes.length }])
  expect(added.kept.bytes).toBeGreaterThan(500_000)
  const again = await cli('licences', 'add', 'Slow Ferry', '--kind', 'gift')
  expect(again.stdout).not.toContain('Kept in the workshop')

  const second = await freshFont('North Quay')
  const run = await cli('builds', 'add', 'EX-7', '--font', 'North Quay')
  expect(run.stdout).toMatch(/Kept in the workshop: 9 originals of North Quay, [\d.]+ (KiB|MiB)/)
  expect(second.hashes.every(isStored)).toBe(true)
})

test('a record whose font can no longer be read stands, and says so', async () => {
  const { folder } = await freshFont('Gone Tomorrow')
  rmSync(folder, { recursive: true })
  const run = await cli('licences', 'add', 'Gone Tomorrow', '--json')
  expect(run.code).toBe(0)
  const added = JSON.parse(run.stdout) as ResponseOf<'licences:add'>
  expect(added.licence.fontName).toBe('Gone Tomorrow')
  expect(added.kept.files).toBe(0)
  expect(added.kept.problems.join()).toMatch(/Gone Tomorrow.*no longer where the last scan saw it/)
})

test('a later change of the folder changes nothing that was kept: the same card is made and remade', async () => {
  const { folder, hashes } = await freshFont('Low Tide')
  const made = await json<ResponseOf<'make'>>('make', 'Low Tide', '--image', 'tide.img')
  expect(made.kept.fonts.map(({ font }) => font)).toEqual(['Low Tide'])
  for (const file of readdirSync(folder)) {
    const whole = readFileSync(join(folder, file))
    writeFileSync(join(folder, file), Buffer.concat([whole.subarray(0, -2), Buffer.of(9, 0)]))
  }
  expect((await cli('make', 'Low Tide', '--image', 'tide-2.img')).code).toBe(0)
  expect(hashOf(join(demo.base, 'tide-2.img'))).toBe(hashOf(join(demo.base, 'tide.img')))
  await cli('scan', folder)
  expect(hashes.every(isStored)).toBe(true)
  const shown = await json<ResponseOf<'originals:show'>>('fonts', 'originals', 'Low Tide')
  expect(shown).toMatchObject({ earlierFiles: hashes.length, keptFiles: 0 })
  expect((await cli('remake', made.fingerprint, '--image', 'tide-3.img')).code).toBe(0)
  expect(hashOf(join(demo.base, 'tide-3.img'))).toBe(hashOf(join(demo.base, 'tide.img')))
})

test('what is kept by hand is released again; prepared bytes go with their originals', async () => {
  const { hashes } = await freshFont('Far Lantern', 'Thornwick')
  const kept = await json<ResponseOf<'originals:keep'>>('fonts', 'keep', 'Far Lantern')
  expect(kept.kept.files).toBe(hashes.length)
  expect(kept.originals.neededBy).toEqual([])
  const prepared = await json<ResponseOf<'prepare'>>('prepare', 'Far Lantern', '--board', 'bench-44')
  const made = prepared.fonts[0]?.sounds.flatMap(({ after }) => after?.sha256 ?? []) ?? []
  expect(made.length).toBeGreaterThan(0)
  expect(made.every(isStored)).toBe(true)
  const released = await json<ResponseOf<'originals:release'>>('fonts', 'release', 'Far Lantern')
  expect(released.freedFiles).toBeGreaterThanOrEqual(hashes.length + made.length)
  expect([...hashes, ...made].some(isStored)).toBe(false)
  expect(released.originals).toMatchObject({ keptFiles: 0, isElsewhere: true })
  // The folder is still there: everything can be made anew.
  expect((await cli('prepare', 'Far Lantern', '--board', 'bench-44')).code).toBe(0)
  expect(made.every(isStored)).toBe(true)
})

test('what a licence, build or content needs is not released, and the reason is told', async () => {
  const { hashes } = await freshFont('Still Harbour')
  const { licence } = await json<ResponseOf<'licences:add'>>('licences', 'add', 'Still Harbour')
  const refused = await cli('fonts', 'release', 'Still Harbour')
  expect(refused.code).toBe(1)
  expect(toldLines(refused).join()).toMatch(/needed by licence Still Harbour, bought.*Remove the licence/)
  await cli('licences', 'remove', licence.id)
  const { fingerprint } = await json<ResponseOf<'make'>>('make', 'Still Harbour', '--image', 'still.img')
  const byContent = await cli('fonts', 'release', 'Still Harbour')
  expect(byContent.code).toBe(1)
  expect(toldLines(byContent).join()).toContain(`content ${fingerprint}`)
  expect(hashes.every(isStored)).toBe(true)
})

test('the only copy goes only on a word of its own', async () => {
  const { folder, hashes } = await freshFont('Last Ember')
  await cli('fonts', 'keep', 'Last Ember')
  rmSync(folder, { recursive: true })
  await cli('scan', folder)
  await cli('roots', 'remove', folder)
  const refused = await cli('fonts', 'release', 'Last Ember')
  expect(refused.code).toBe(1)
  expect(toldLines(refused).join()).toContain('only copy')
  expect(hashes.every(isStored)).toBe(true)
  expect((await cli('fonts', 'release', 'Last Ember', '--only-copy')).code).toBe(0)
  expect(hashes.some(isStored)).toBe(false)
})

test('a document of a card that left the store is told in one sentence when the card is made again', async () => {
  const made = await json<ResponseOf<'make'>>('make', 'Harbour Bell', '--image', 'papers.img')
  const { files } = await json<ResponseOf<'contents:show'>>('cards', 'show', made.fingerprint)
  const credits = files.find(({ kind }) => kind === 'credits')
  const sha256 = credits?.sha256 ?? ''
  rmSync(join(demo.folder, 'store', sha256.slice(0, 2), sha256))
  const run = await cli('remake', made.fingerprint, '--image', 'papers-again.img', '--json')
  expect(run.code).toBe(3)
  const { error } = JSON.parse(run.stdout) as { error: { code: string; what: string } }
  expect(error.code).toBe('remake/bytes-gone')
  expect(error.what).toContain('CREDITS.TXT')
  expect(toldLines(run)).toHaveLength(1)
  expect(existsSync(join(demo.base, 'papers-again.img'))).toBe(false)
})

const quiet: RunControl = { cancel: new AbortController().signal, onProgress: () => {} }

/** A font of which the store holds all, and that no record needs. */
async function keptByHand(core: Core, name: string): Promise<string> {
  await freshFont(name)
  await cli('fonts', 'keep', name)
  const { fonts } = await core['fonts:list']({}, quiet)
  return fonts.find(({ font }) => font.name === name)?.id ?? ''
}

test.each<{
  readonly form: string
  readonly name: string
  make(core: Core, editionIds: readonly string[], control: RunControl): Promise<{ fingerprint: string }>
}>([
  {
    form: 'an image',
    name: 'Night Ferry',
    make: (core, editionIds, control) =>
      core.make({ boardId: 'bench-44', editionIds, imagePath: join(demo.base, 'night.img') }, control),
  },
  {
    form: 'a folder',
    name: 'Day Ferry',
    make: (core, editionIds, control) =>
      core['make:into']({ boardId: 'bench-44', editionIds, into: join(demo.base, 'day') }, control),
  },
])('while $form is made, what it counts on is not released, and it is remade later', async (how) => {
  const workshop = await openWorkshop({ folder: demo.folder })
  try {
    const { core } = workshop
    const editionId = await keptByHand(core, how.name)
    mkdirSync(join(demo.base, 'day'), { recursive: true })
    let releasing: Promise<unknown> | undefined
    const { fingerprint } = await how.make(core, [editionId], {
      ...quiet,
      onProgress: () => {
        releasing ??= core['originals:release']({ editionId }, quiet).catch((error: unknown) => error)
      },
    })
    expect(await releasing).toMatchObject({
      code: 'lock/held',
      message: expect.stringMatching(/making a card \(process \d+\) has been at it/),
    })
    rmSync(join(demo.base, 'fresh', how.name), { recursive: true })
    expect((await cli('remake', fingerprint, '--image', `${how.name}.img`)).code).toBe(0)
    // With the card on record, it is that which holds them.
    const released = core['originals:release']({ editionId }, quiet)
    await expect(released).rejects.toMatchObject({ code: 'originals/needed' })
  } finally {
    await workshop.close()
  }
})

test('while sounds are prepared, the originals they are of are not released', async () => {
  const workshop = await openWorkshop({ folder: demo.folder })
  try {
    const { core } = workshop
    const editionId = await keptByHand(core, 'Late Ferry')
    let releasing: Promise<unknown> | undefined
    const { fonts } = await core.prepare(
      { boardId: 'bench-32', editionIds: [editionId] },
      {
        ...quiet,
        onProgress: () => {
          releasing ??= core['originals:release']({ editionId }, quiet).catch((error: unknown) => error)
        },
      },
    )
    expect(await releasing).toMatchObject({
      code: 'lock/held',
      message: expect.stringMatching(/preparing sounds \(process \d+\) has been at it/),
    })
    const made = fonts.flatMap(({ sounds }) => sounds.flatMap(({ after }) => after?.sha256 ?? []))
    expect(made.length).toBeGreaterThan(0)
    expect(made.every(isStored)).toBe(true)
    const { originals } = await core['originals:release']({ editionId }, quiet)
    expect(originals.keptFiles).toBe(0)
    expect(made.some(isStored)).toBe(false)
  } finally {
    await workshop.close()
  }
})

const plainLicence: Omit<RequestOf<'licences:add'>, 'fontId'> = {
  holder: '',
  kind: 'bought',
  grantedOn: '',
  orderReference: '',
  terms: '',
  note: '',
}
test.each<{
  readonly record: string
  readonly name: string
  act(core: Core, editionId: string, fontId: string, control: RunControl): Promise<unknown>
}>([
  {
    record: 'a licence',
    name: 'Early Ferry',
    act: (core, _, fontId, control) => core['licences:add']({ ...plainLicence, fontId }, control),
  },
  {
    record: 'a build',
    name: 'First Ferry',
    act: (core, editionId, _, control) =>
      core['builds:add'](plainBuild({ code: 'EX-900', fontEditionIds: [editionId] }), control),
  },
  {
    record: 'the user’s word',
    name: 'Next Ferry',
    act: (core, editionId, _, control) => core['originals:keep']({ editionId }, control),
  },
])('$record that comes while originals are released has them afterwards all the same', async (how) => {
  const workshop = await openWorkshop({ folder: demo.folder })
  const locks = openNamedLocks(demo.folder, { who: 'another', clock: systemClock })
  try {
    const { core } = workshop
    const { hashes } = await freshFont(how.name)
    await cli('fonts', 'keep', how.name)
    const { fonts } = await core['fonts:list']({}, quiet)
    const edition = fonts.find(({ font }) => font.name === how.name)
    const releasing = await locks.acquire(STORE_LOCK, 'releasing originals')
    const toldWaiting = Promise.withResolvers<string | null>()
    const recording = how.act(core, edition?.id ?? '', edition?.font.id ?? '', {
      ...quiet,
      onProgress: ({ current }) => toldWaiting.resolve(current),
    })
    expect(await toldWaiting.promise).toMatch(/releasing originals/)
    const library = new Database(join(demo.folder, 'cardwright.sqlite'))
    library.prepare('DELETE FROM kept_original WHERE edition_id = ?').run(edition?.id)
    library.close()
    for (const sha256 of hashes) rmSync(join(demo.folder, 'store', sha256.slice(0, 2), sha256))
    await releasing.release()
    await recording
    expect(hashes.every(isStored)).toBe(true)
  } finally {
    await workshop.close()
  }
})
