import { cpSync, renameSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { calls } from '../../../app/contract/calls.ts'
import { handMadeZip } from '../../support/hand-made-zip.ts'
import { plainWave } from '../../support/plain-wave.ts'
import { openScanBench, type ScanBench } from '../../support/scan-bench.ts'
import { writeFiles } from '../../support/temporary-folder.ts'

/** A font's sounds: named as the plain scheme spells them, each with samples of its own. */
function font(seed: number): Record<string, Uint8Array> {
  return {
    'hum.wav': plainWave(seed),
    'clash-01.wav': plainWave(seed + 1),
    'clash-02.wav': plainWave(seed + 2),
  }
}

function below(
  folder: string,
  files: Record<string, Uint8Array | string>,
): Record<string, Uint8Array | string> {
  return Object.fromEntries(Object.entries(files).map(([name, bytes]) => [`${folder}/${name}`, bytes]))
}

const zipped = (folder: string, files: Record<string, Uint8Array>) =>
  handMadeZip(Object.entries(files).map(([name, data]) => ({ name: folder + name, data })))

async function editionsOf({ database }: ScanBench) {
  const editions = await database.library.listEditions()
  return editions.map(({ font: { name }, version, state, places, soundCount }) => ({
    name,
    version,
    state,
    places: places.filter((place) => place.state === 'present').length,
    soundCount,
  }))
}

describe('a first scan', () => {
  test('finds the editions in folders and archives, with names, versions, makers, roles and companions', async () => {
    const bench = await openScanBench()
    writeFiles(bench.library, {
      ...below('Varnisk/Ember v2', { ...font(1), 'about.txt': 'read me', '.DS_Store': 'x' }),
      'Varnisk/Frost 1.1.zip': zipped('Frost/', font(10)),
      ...below('odd', { 'a.wav': plainWave(20), 'b.wav': plainWave(21) }),
      'readme.txt': 'of no font',
    })
    const report = await bench.scan()
    expect(calls.scan.response.parse(report)).toEqual(report)
    expect(report.roots).toMatchObject([
      {
        path: bench.library,
        editions: 3,
        sounds: 8,
        added: 3,
        changed: 0,
        unchanged: 0,
        gone: 0,
        problems: [],
      },
    ])
    expect(await editionsOf(bench)).toEqual([
      { name: 'Ember', version: '2', state: 'present', places: 1, soundCount: 3 },
      { name: 'Frost', version: '1.1', state: 'present', places: 1, soundCount: 3 },
      { name: 'odd', version: '', state: 'present', places: 1, soundCount: 2 },
    ])
    const [ember, frost, odd] = await bench.database.library.getEditions(
      (await bench.database.library.listEditions()).map(({ id }) => id),
    )
    expect(ember?.font.proposedCreatorName).toBe('Varnisk')
    expect(frost?.font.proposedCreatorName).toBe('Varnisk')
    expect(ember?.schemeId).not.toBeNull()
    expect(odd?.schemeId).toBeNull()
    expect(ember?.companions).toMatchObject([{ path: 'about.txt', kind: 'text', sizeBytes: 7 }])
    expect(ember?.litter).toEqual(['.DS_Store'])
    expect(ember?.sounds.find(({ path }) => path === 'hum.wav')).toMatchObject({
      place: { role: 'hum' },
      roleSource: 'scheme',
      inspection: { facts: { sampleRateHz: 22_050, frames: 900 } },
    })
    expect(frost?.places).toMatchObject([
      { path: join(bench.library, 'Varnisk/Frost 1.1.zip'), innerPath: 'Frost' },
    ])
  })

  test('takes an archive by itself, and archives in it to a bounded depth', async () => {
    const bench = await openScanBench()
    const inner = zipped('', font(1))
    const path = join(bench.library, 'Varnisk.zip')
    writeFiles(bench.library, {
      'Varnisk.zip': handMadeZip([
        { name: 'Ember v2.zip', data: inner },
        { name: 'deep/outer.zip', data: handMadeZip([{ name: 'in.zip', data: inner }]) },
      ]),
    })
    const report = await bench.scan([path])
    expect(report.roots).toMatchObject([{ path, editions: 1, sounds: 3 }])
    expect(report.roots[0]?.problems).toMatchObject([
      { path: `${path}!/deep/outer.zip!/in.zip`, code: 'archive/too-deep', severity: 'fault' },
    ])
    const [edition] = await bench.database.library.listEditions()
    expect(edition).toMatchObject({
      font: { name: 'Ember', proposedCreatorName: 'Varnisk' },
      version: '2',
      places: [{ path, innerPath: 'Ember v2.zip!' }],
    })
    expect((await bench.scan([path])).roots).toMatchObject([{ filesRead: 0, unchanged: 1 }])
  })

  test('one broken file is told with its path and stops nothing', async () => {
    const bench = await openScanBench()
    writeFiles(bench.library, {
      ...below('Ember', {
        ...font(1),
        'empty.wav': '',
        'text.wav': 'not a sound',
        'cut.wav': plainWave(9).subarray(0, 20),
      }),
    })
    const { roots } = await bench.scan()
    expect(roots[0]?.sounds).toBe(6)
    const told = roots[0]?.problems.map(({ path, severity }) => [path, severity])
    expect(told?.sort()).toEqual(
      ['cut.wav', 'empty.wav', 'text.wav'].map((name) => [join(bench.library, 'Ember', name), 'fault']),
    )
    const again = await bench.scan()
    expect(again.roots[0]?.problems).toEqual(roots[0]?.problems)
    writeFiles(bench.library, below('Frost', font(5)))
    const third = await bench.scan()
    expect(third.roots[0]?.problems.length).toBe(3)
    expect(bench.inspected.filter((path) => path.endsWith('empty.wav')).length).toBe(1)
  })

  test('a folder without sounds gives no edition and no fault', async () => {
    const bench = await openScanBench()
    writeFiles(bench.library, { 'readme.txt': 'nothing here' })
    expect((await bench.scan()).roots).toMatchObject([{ editions: 0, sounds: 0, problems: [] }])
  })

  test('a wrong path among several changes nothing', async () => {
    const bench = await openScanBench()
    writeFiles(bench.library, below('Ember', font(1)))
    await expect(bench.scan([bench.library, join(bench.library, 'missing')])).rejects.toMatchObject({
      code: 'scan/no-such-path',
    })
    expect(await bench.database.library.listRoots()).toEqual([])
  })
})

describe('a later scan', () => {
  async function scanned(): Promise<ScanBench> {
    const bench = await openScanBench()
    writeFiles(bench.library, {
      ...below('Ember', { ...font(1), 'about.txt': 'old' }),
      ...below('Frost', font(10)),
      'Glow.zip': zipped('Glow/', font(20)),
    })
    await bench.scan()
    bench.inspected.length = 0
    return bench
  }

  test('reads nothing where nothing has changed', async () => {
    const bench = await scanned()
    expect((await bench.scan()).roots).toMatchObject([
      { editions: 3, sounds: 9, unchanged: 3, added: 0, changed: 0, gone: 0, filesRead: 0, bytesRead: 0 },
    ])
  })

  test('reads only the file that changed', async () => {
    const bench = await scanned()
    const path = join(bench.library, 'Ember/clash-01.wav')
    writeFileSync(path, plainWave(99))
    expect((await bench.scan()).roots).toMatchObject([
      { editions: 3, changed: 1, unchanged: 2, filesRead: 1 },
    ])
    expect(bench.inspected).toEqual([path])
  })

  test('sees a change that keeps the size, by the time', async () => {
    const bench = await scanned()
    const path = join(bench.library, 'Ember/clash-01.wav')
    writeFileSync(path, plainWave(99))
    const later = new Date(statSync(path).mtimeMs + 5000)
    utimesSync(path, later, later)
    expect((await bench.scan()).roots).toMatchObject([{ changed: 1 }])
  })

  test('knows a moved folder by its sounds, and asks nothing again', async () => {
    const bench = await scanned()
    const [before] = await bench.database.library.listEditions()
    await bench.database.inTransaction(({ library }) => library.changeFont(before!.id, { name: 'My Ember' }))
    renameSync(join(bench.library, 'Ember'), join(bench.library, 'somewhere'))
    expect((await bench.scan()).roots).toMatchObject([{ relinked: 1, added: 0, gone: 0, unchanged: 2 }])
    const after = (await bench.database.library.listEditions()).find(({ id }) => id === before!.id)
    expect(after).toMatchObject({ font: { name: 'My Ember' }, state: 'present' })
    expect(after?.places.filter(({ state }) => state === 'present')).toMatchObject([
      { path: join(bench.library, 'somewhere') },
    ])
    expect(bench.inspected).toEqual([])
  })

  test('takes a copied folder for the same edition in two places', async () => {
    const bench = await scanned()
    cpSync(join(bench.library, 'Ember'), join(bench.library, 'copies/Ember'), { recursive: true })
    expect((await bench.scan()).roots).toMatchObject([{ editions: 4, relinked: 1, added: 0 }])
    expect(await editionsOf(bench)).toMatchObject([
      { name: 'Ember', places: 2 },
      { name: 'Frost' },
      { name: 'Glow' },
    ])
  })

  test('takes an archive that was unpacked for the same edition', async () => {
    const bench = await scanned()
    writeFiles(bench.library, below('Glow', font(20)))
    expect((await bench.scan()).roots).toMatchObject([{ relinked: 1, added: 0 }])
  })

  test('marks what is gone, keeps its records, and knows it when it is back', async () => {
    const bench = await scanned()
    renameSync(join(bench.library, 'Frost'), join(bench.library, '..', 'Frost'))
    expect((await bench.scan()).roots).toMatchObject([{ gone: 1, editions: 2 }])
    expect((await editionsOf(bench)).map(({ name, state }) => [name, state])).toEqual([
      ['Ember', 'present'],
      ['Frost', 'gone'],
      ['Glow', 'present'],
    ])
    renameSync(join(bench.library, '..', 'Frost'), join(bench.library, 'Frost'))
    await bench.scan()
    expect((await editionsOf(bench)).map(({ state }) => state)).toEqual(['present', 'present', 'present'])
  })

  test('of a path that is not there leaves all as it was', async () => {
    const bench = await scanned()
    renameSync(bench.library, `${bench.library}-away`)
    await expect(bench.scan()).rejects.toMatchObject({ code: 'scan/no-such-path' })
    expect((await editionsOf(bench)).every(({ state }) => state === 'present')).toBe(true)
  })

  test('opens an archive again only when it has changed', async () => {
    const bench = await scanned()
    writeFiles(bench.library, below('Haze', font(30)))
    await bench.scan()
    expect(bench.inspected.every((path) => path.includes('Haze'))).toBe(true)
    bench.inspected.length = 0
    writeFiles(bench.library, { 'Glow.zip': zipped('Glow/', { ...font(20), 'hum.wav': plainWave(77) }) })
    expect((await bench.scan()).roots).toMatchObject([{ changed: 1, unchanged: 3 }])
    expect(bench.inspected.every((path) => path.includes('Glow.zip'))).toBe(true)
    expect(bench.inspected.length).toBe(3)
  })

  test('reads names anew when other schemes are known, and no file', async () => {
    const bench = await scanned()
    const report = await bench.scan([bench.library], {
      roles: {
        key: 'none',
        isRoleName: () => false,
        readRoles: (paths) => ({ schemeId: null, places: paths.map(() => null) }),
      },
    })
    expect(report.roots).toMatchObject([{ changed: 3, filesRead: 0 }])
    expect((await bench.database.library.listEditions()).map(({ schemeId }) => schemeId)).toEqual([
      null,
      null,
      null,
    ])
  })
})

test('a copy that is there from the first is one edition in two places', async () => {
  const bench = await openScanBench()
  writeFiles(bench.library, { ...below('Ember', font(1)), ...below('copy/Ember', font(1)) })
  expect((await bench.scan()).roots).toMatchObject([{ editions: 2, added: 1, relinked: 1 }])
  expect(await editionsOf(bench)).toEqual([
    { name: 'Ember', version: '', state: 'present', places: 2, soundCount: 3 },
  ])
  expect((await bench.scan()).roots).toMatchObject([{ editions: 2, sounds: 6 }])
})

test('renamed files are told by their new names once the old ones are gone', async () => {
  const bench = await openScanBench()
  writeFiles(bench.library, below('Ember', font(1)))
  await bench.scan()
  renameSync(join(bench.library, 'Ember'), join(bench.library, 'Glow'))
  renameSync(join(bench.library, 'Glow/hum.wav'), join(bench.library, 'Glow/hum-01.wav'))
  expect((await bench.scan()).roots).toMatchObject([{ relinked: 1, added: 0, filesRead: 0 }])
  const [summary] = await bench.database.library.listEditions()
  const edition = await bench.database.library.getEdition(summary!.id)
  expect(edition.sounds.map(({ path }) => path)).toContain('hum-01.wav')
})

describe('locked archives', () => {
  const locked = { name: 'font/clash-01.wav', data: plainWave(2), password: 'kit' }
  const open = { name: 'font/hum.wav', data: plainWave(1) }

  test('a password is asked for once; with it the archive is read, and nothing of it is kept', async () => {
    const bench = await openScanBench()
    const path = join(bench.library, 'font.zip')
    writeFiles(bench.library, {
      'font.zip': handMadeZip([locked, { ...locked, name: 'font/clash-02.wav' }, open]),
    })
    const first = await bench.scan()
    expect(first.roots[0]).toMatchObject({ sounds: 1 })
    expect(first.roots[0]?.problems).toMatchObject([
      { path, code: 'archive/password-needed', severity: 'fault' },
    ])
    expect(first.roots[0]?.problems[0]?.message).toContain('--password')
    const wrong = await bench.scan([bench.library], { passwords: { [path]: 'tool' } })
    expect(wrong.roots[0]?.problems).toMatchObject([{ path, code: 'archive/password-wrong' }])
    const right = await bench.scan([bench.library], { passwords: { [path]: 'kit' } })
    expect(right.roots[0]).toMatchObject({ sounds: 3, problems: [] })
    const later = await bench.scan()
    expect(later.roots[0]).toMatchObject({ sounds: 3, unchanged: 1, filesRead: 0, problems: [] })
  })
})

describe('a cancelled scan', () => {
  test.each([
    { when: 'while it looks', phase: 'looking for sounds' },
    { when: 'while it reads', phase: 'reading sounds' },
    { when: 'before it records', phase: 'recording' },
  ])('$when leaves the library as it was', async ({ phase }) => {
    const bench = await openScanBench()
    writeFiles(bench.library, { ...below('Ember', font(1)), 'Glow.zip': zipped('', font(20)) })
    const cancel = new AbortController()
    const scanning = bench.scan([bench.library], {
      control: {
        cancel: cancel.signal,
        onProgress: (progress) => progress.phase === phase && cancel.abort(),
      },
    })
    await expect(scanning).rejects.toMatchObject({ code: 'cancelled' })
    expect(await bench.database.library.listRoots()).toEqual([])
    expect(await bench.database.library.listEditions()).toEqual([])
    expect((await bench.scan()).roots).toMatchObject([{ editions: 2, added: 2 }])
  })
})

test('two scans of one root do not overlap: the second is told who holds it', async () => {
  const bench = await openScanBench()
  writeFiles(bench.library, below('Ember', font(1)))
  const both = await Promise.allSettled([bench.scan(), bench.scan()])
  expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
  expect(both.find(({ status }) => status === 'rejected')).toMatchObject({ reason: { code: 'lock/held' } })
})

test('progress counts the files to the last', async () => {
  const bench = await openScanBench()
  writeFiles(bench.library, {
    ...below('Ember', { ...font(1), 'a.txt': 'a' }),
    'Glow.zip': zipped('', font(20)),
  })
  const seen: string[] = []
  await bench.scan([bench.library], {
    control: {
      cancel: new AbortController().signal,
      onProgress: ({ phase, done, total }) => seen.push(`${phase} ${done}/${total ?? '?'}`),
    },
  })
  expect(seen.at(-2)).toBe('reading sounds 7/7')
  expect(seen).toContain('looking for sounds 5/?')
})

test('nothing in the tree is touched', async () => {
  const bench = await openScanBench()
  writeFiles(bench.library, { ...below('Ember', font(1)), 'Glow.zip': zipped('../', font(20)) })
  const before = statSync(join(bench.library, 'Ember'), { bigint: true })
  await bench.scan()
  rmSync(join(bench.library, 'Glow.zip'))
  const after = statSync(join(bench.library, 'Ember'), { bigint: true })
  expect([after.mtimeNs, after.ctimeNs]).toEqual([before.mtimeNs, before.ctimeNs])
})
