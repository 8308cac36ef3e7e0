import { createHash } from 'node:crypto'
import { execFileSync } from 'node:child_process'
import {
  chmodSync,
  linkSync,
  mkdirSync,
  renameSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { describe, expect, onTestFinished, test } from 'vitest'
import type { LibraryFiles, LookedAt } from '../../app/ports/library-files.ts'
import { openWorkerLibraryFiles, walkAhead } from '../../main/workers/worker-library-files.ts'
import { handMadeZip, type HandMadeEntry } from '../support/hand-made-zip.ts'
import { plainWave } from '../support/plain-wave.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

const never = new AbortController().signal
const isRoot = process.getuid?.() === 0
const isLinux = process.platform === 'linux'

function opened(): LibraryFiles {
  const files = openWorkerLibraryFiles()
  onTestFinished(() => files.close())
  return files
}

const folderAt = (path: string): LookedAt => ({ path, kind: 'folder' })
const walk = (files: LibraryFiles, path: string, digest: string | null = null) =>
  files.walk(folderAt(path), digest, () => {}, never)

describe('what a user names for scanning', () => {
  test('a folder, an archive by its first bytes, an archive by its name', async () => {
    const files = opened()
    const folder = temporaryFolder()
    const zip = handMadeZip([{ name: 'hum.wav', data: plainWave(1) }])
    writeFiles(folder, { 'a.bin': zip, 'b.zip': 'no archive at all' })
    expect(await files.look(folder)).toEqual({ path: folder, kind: 'folder' })
    expect(await files.look(join(folder, 'a.bin'))).toMatchObject({ kind: 'archive' })
    expect(await files.look(join(folder, 'b.zip'))).toMatchObject({ kind: 'archive' })
    expect((await files.look(`${folder}/./x/..`)).path).toBe(folder)
  })

  test('a walk that was begun ahead is told once, and is the same; a wrong path is told when it is asked for', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'A/hum.wav': 'x', 'B/clash.wav': 'yz' })
    const first = await walk(opened(), folder)
    const files = walkAhead(folder)
    onTestFinished(() => files.close())
    const seen: number[] = []
    const tree = await files.walk(folderAt(folder), null, (count) => seen.push(count), never)
    expect(tree).toEqual(first)
    expect(seen.at(-1)).toBe(2)
    writeFiles(folder, { 'A/swing.wav': 'new' })
    const again = await walk(files, folder, first.digest)
    expect(again.folders?.map(({ names }) => names)).toEqual([[], ['hum.wav', 'swing.wav'], ['clash.wav']])
    const known = walkAhead(folder)
    onTestFinished(() => known.close())
    expect(await walk(known, folder, again.digest)).toEqual({
      digest: again.digest,
      folders: null,
      problems: [],
    })
    const missing = walkAhead(join(folder, 'none'))
    onTestFinished(() => missing.close())
    await expect(missing.look(join(folder, 'none'))).rejects.toMatchObject({ code: 'scan/no-such-path' })
  })

  test.each([
    ['nothing is there', 'missing', 'scan/no-such-path'],
    ['below a file', 'hum.wav/x', 'scan/no-such-path'],
    ['a sound', 'hum.wav', 'scan/not-a-folder-or-archive'],
    ['an archive of another kind', 'font.rar', 'scan/archive-kind'],
    ['a packed archive', 'font.tar.gz', 'scan/archive-kind'],
  ])('%s: refused', async (_, path, code) => {
    const folder = temporaryFolder()
    writeFiles(folder, {
      'hum.wav': plainWave(1),
      'font.rar': Buffer.from('526172211a0700', 'hex'),
      'font.tar.gz': gzipSync('a tape'),
    })
    await expect(opened().look(join(folder, path))).rejects.toMatchObject({ code })
  })

  test.skipIf(isRoot)('a folder that may not be read', async () => {
    const folder = temporaryFolder()
    chmodSync(folder, 0)
    onTestFinished(() => chmodSync(folder, 0o700))
    await expect(opened().look(folder)).rejects.toMatchObject({ code: 'scan/no-permission', kind: 'machine' })
  })
})

describe('walking a tree', () => {
  test('tells every file with size, time and inode, sorted, parents before children', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, {
      'b/z.wav': 'zz',
      'b/a.wav': 'a',
      'a.txt': '',
      'b/c/x.wav': 'xxx',
      '__MACOSX/y.wav': 'y',
    })
    utimesSync(join(folder, 'b/a.wav'), new Date(-86_400_000), new Date(-86_400_000))
    const { folders, problems } = await walk(opened(), folder)
    expect(folders?.map(({ path, names }) => [path, names])).toEqual([
      ['', ['a.txt']],
      ['b', ['a.wav', 'z.wav']],
      ['b/c', ['x.wav']],
    ])
    expect(folders?.[0]?.litterFolders).toEqual(['__MACOSX'])
    expect(folders?.[1]?.sizesBytes).toEqual(Float64Array.of(1, 2))
    expect(folders?.[1]?.modifiedNs[0]).toBe(-86_400_000_000_000n)
    expect(folders?.[1]?.fileKeys[1]).toBe(statSync(join(folder, 'b/z.wav'), { bigint: true }).ino)
    expect(problems).toEqual([])
  })

  test('the same tree has the same digest, and need not be told again', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'a/hum.wav': 'x', 'b/hum.wav': 'y' })
    const files = opened()
    const { digest } = await walk(files, folder)
    expect(await walk(files, folder, digest)).toEqual({ digest, folders: null, problems: [] })
  })

  test.each<[string, (folder: string) => void]>([
    ['a byte more', (folder) => writeFileSync(join(folder, 'a/hum.wav'), 'xx')],
    ['another time', (folder) => utimesSync(join(folder, 'a/hum.wav'), 5, 5)],
    ['another name', (folder) => renameSync(join(folder, 'a/hum.wav'), join(folder, 'a/hun.wav'))],
    ['a new file', (folder) => writeFileSync(join(folder, 'b.wav'), '')],
    ['an empty folder', (folder) => mkdirSync(join(folder, 'c'))],
    ['a link', (folder) => symlinkSync('a', join(folder, 'l'))],
  ])('%s gives another digest', async (_, change) => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'a/hum.wav': 'x' })
    const files = opened()
    const { digest } = await walk(files, folder)
    change(folder)
    const again = await walk(files, folder, digest)
    expect(again.folders).not.toBeNull()
    expect(again.digest).not.toBe(digest)
  })

  test('links are told and not followed: into loops, out of the tree, to nothing', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'outside/secret.wav': 's', 'in/hum.wav': 'x' })
    for (const [name, target] of [
      ['up', '..'],
      ['self', 'self'],
      ['out', '../outside'],
      ['gone.wav', 'nowhere'],
    ]) {
      symlinkSync(target ?? '', join(folder, 'in', name ?? ''))
    }
    const { folders, problems } = await walk(opened(), join(folder, 'in'))
    expect(folders?.flatMap(({ names }) => names)).toEqual(['hum.wav'])
    expect(problems.map(({ code, severity }) => [code, severity])).toEqual(
      Array.from({ length: 4 }, () => ['walk/link', 'note']),
    )
  })

  test('the same file by two names is two files', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'a.wav': 'x' })
    linkSync(join(folder, 'a.wav'), join(folder, 'b.wav'))
    const { folders } = await walk(opened(), folder)
    expect(folders?.[0]?.names).toEqual(['a.wav', 'b.wav'])
  })

  test.runIf(isLinux)('a pipe is told and not opened', async () => {
    const folder = temporaryFolder()
    execFileSync('mkfifo', [join(folder, 'pipe.wav')])
    const { folders, problems } = await walk(opened(), folder)
    expect(folders?.[0]?.names).toEqual([])
    expect(problems).toMatchObject([
      { code: 'walk/special', severity: 'note', message: expect.stringContaining('a pipe') },
    ])
  })

  test.runIf(isLinux)(
    'a name that is no UTF-8 is told with its bytes, and the others are there',
    async () => {
      const folder = temporaryFolder()
      writeFiles(folder, { 'caf\u00e9.wav': '1', 'cafe\u0301.wav': '2', 'odd \uFFFD.wav': '3' })
      writeFileSync(
        Buffer.concat([Buffer.from(`${folder}/latin-`), Buffer.of(0xe9), Buffer.from('.wav')]),
        '4',
      )
      const { folders, problems } = await walk(opened(), folder)
      expect(folders?.[0]?.names).toEqual(['cafe\u0301.wav', 'caf\u00e9.wav', 'odd \uFFFD.wav'])
      expect(problems).toMatchObject([
        { code: 'walk/name-not-utf8', path: join(folder, 'latin-%e9.wav'), severity: 'fault' },
      ])
    },
  )

  test.runIf(isLinux)('a path longer than the system can open is told, not followed', async () => {
    const folder = temporaryFolder()
    const script = `cd "$1"; for k in $(seq 40); do mkdir "$2" && cd "$2"; done; echo x > hum.wav`
    execFileSync('bash', ['-c', script, 'bash', folder, 'd'.repeat(120)])
    const { problems } = await walk(opened(), folder)
    expect(problems.map(({ code }) => code)).toEqual(['walk/path-too-long'])
    execFileSync('rm', ['-rf', folder])
  })

  test('folders inside one another without end are left out from a depth on', async () => {
    const folder = temporaryFolder()
    mkdirSync(join(folder, ...Array.from({ length: 140 }, () => 'd')), { recursive: true })
    const { folders, problems } = await walk(opened(), folder)
    expect(folders?.length).toBe(129)
    expect(problems.map(({ code }) => code)).toEqual(['walk/too-deep'])
  })

  test.skipIf(isRoot)('a folder that may not be entered is told, and the others are there', async () => {
    const folder = temporaryFolder()
    writeFiles(folder, { 'closed/hum.wav': 'x', 'open/hum.wav': 'y' })
    chmodSync(join(folder, 'closed'), 0)
    onTestFinished(() => chmodSync(join(folder, 'closed'), 0o700))
    const { folders, problems } = await walk(opened(), folder)
    expect(folders?.map(({ path }) => path)).toEqual(['', 'open'])
    expect(problems).toMatchObject([{ code: 'walk/unreadable-folder', severity: 'fault' }])
  })

  test('a cancel ends it at once', async () => {
    const cancel = new AbortController()
    const walking = opened().walk(folderAt('/'), null, () => cancel.abort(), cancel.signal)
    await expect(walking).rejects.toMatchObject({ code: 'cancelled' })
  })
})

test('files are hashed, and what they are by their first bytes is told', async () => {
  const folder = temporaryFolder()
  writeFiles(folder, { 'a.txt': 'text', none: plainWave(1), 'b.dat': handMadeZip([]), empty: '' })
  const results: unknown[] = []
  const files = ['a.txt', 'none', 'b.dat', 'empty', 'missing'].map((name) => ({
    path: join(folder, name),
    sizeBytes: 1,
  }))
  await opened().hashFiles(
    files,
    (index, { sha256, looksLike, problem }) => {
      results[index] = [sha256, looksLike, problem?.code]
    },
    never,
  )
  const sha = (bytes: string | Uint8Array) => createHash('sha256').update(bytes).digest('hex')
  expect(results).toEqual([
    [sha('text'), null, undefined],
    [sha(plainWave(1)), 'wav', undefined],
    [sha(handMadeZip([])), 'archive', undefined],
    [sha(''), null, undefined],
    [null, null, 'file/missing'],
  ])
})

describe('archives', () => {
  const wave = plainWave(1)
  const silence = new Uint8Array(20_000_000)

  async function archiveOf(
    entries: readonly HandMadeEntry[],
    password: string | null = null,
    shape = (zip: Uint8Array) => zip,
  ) {
    const folder = temporaryFolder()
    writeFiles(folder, { 'font.zip': shape(handMadeZip(entries)) })
    return opened().openArchive(join(folder, 'font.zip'), password, never)
  }

  test('entries are told as they are, and read', async () => {
    const archive = await archiveOf([
      { name: 'font/hum.wav', data: wave },
      { name: 'font/clash.wav', data: wave, stored: true },
      { name: 'font/', data: new Uint8Array(), stored: true, unixMode: 0o040755 },
      { name: 'font/out', data: Buffer.from('..'), stored: true, unixMode: 0o120777 },
      { name: 'font/pipe', data: new Uint8Array(), unixMode: 0o010644 },
    ])
    expect(archive.entries.map(({ name, kind }) => [name, kind])).toEqual([
      ['font/hum.wav', 'file'],
      ['font/clash.wav', 'file'],
      ['font/', 'folder'],
      ['font/out', 'link'],
      ['font/pipe', 'other'],
    ])
    expect(await archive.read(0, 1e6)).toEqual(wave)
    expect(await archive.read(1, 1e6)).toEqual(wave)
    expect(await archive.hash(0, 1e6)).toEqual({
      sha256: createHash('sha256').update(wave).digest('hex'),
      sizeBytes: wave.length,
    })
  })

  test.each<[string, readonly HandMadeEntry[], string]>([
    ['a wrong checksum', [{ name: 'a.wav', data: wave, wrongChecksum: true }], 'archive/entry-damaged'],
    ['a thousandfold unpacking', [{ name: 'a.wav', data: silence }], 'archive/unpacks-too-far'],
    [
      'headers that disagree on the name',
      [{ name: 'a.wav', data: wave, centralName: 'b.wav' }],
      'archive/contradicts',
    ],
    ['an unknown method of packing', [{ name: 'a.wav', data: wave, method: 97 }], 'archive/method'],
    [
      'an entry that is larger than asked for',
      [{ name: 'a.wav', data: new Uint8Array(1_000_001) }],
      'archive/entry-too-large',
    ],
    [
      'a lock without a password',
      [{ name: 'a.wav', data: wave, password: 'kit' }],
      'archive/password-needed',
    ],
  ])('%s is refused', async (_, entries, code) => {
    const archive = await archiveOf(entries)
    const most = code === 'archive/entry-too-large' ? 1_000_000 : 100_000_000
    await expect(archive.read(0, most)).rejects.toMatchObject({ code })
  })

  test('headers that lie about the size are found out while unpacking', async () => {
    const archive = await archiveOf([{ name: 'a.wav', data: silence, saidSize: 4096 }])
    await expect(archive.read(0, 100_000_000)).rejects.toMatchObject({
      code: expect.stringMatching(/^archive\/(entry-damaged|size-lies|unpacks-too-far)$/),
    })
  })

  test('bytes that belong to two entries are refused the second time', async () => {
    const archive = await archiveOf([
      { name: 'a.wav', data: wave },
      { name: 'a.wav', data: wave, overlaps: true },
    ])
    await archive.read(0, 1e6)
    await expect(archive.read(1, 1e6)).rejects.toMatchObject({ code: 'archive/overlap' })
  })

  test('silence of a usual length may pack as well as it likes', async () => {
    const archive = await archiveOf([{ name: 'boot.wav', data: new Uint8Array(5_000_000) }])
    expect((await archive.read(0, 1e8)).length).toBe(5_000_000)
  })

  test('the right password opens an entry, a wrong one is told', async () => {
    const entries = [{ name: 'a.wav', data: wave, password: 'kit' }]
    expect(await (await archiveOf(entries, 'kit')).read(0, 1e6)).toEqual(wave)
    await expect((await archiveOf(entries, 'tool')).read(0, 1e6)).rejects.toMatchObject({
      code: 'archive/password-wrong',
    })
  })

  test('an archive in an archive is opened; one deeper is not', async () => {
    const inner = (data: Uint8Array) => handMadeZip([{ name: 'in.zip', data }])
    const leaf = handMadeZip([{ name: 'hum.wav', data: wave }])
    const two = await archiveOf([{ name: 'in.zip', data: leaf }])
    expect(await (await two.openInner(0, null)).read(0, 1e6)).toEqual(wave)
    const three = await (await archiveOf([{ name: 'in.zip', data: inner(leaf) }])).openInner(0, null)
    await expect(three.openInner(0, null)).rejects.toMatchObject({ code: 'archive/too-deep' })
  })

  test('old names are read as code page 437, new ones as UTF-8 whatever the flag says', async () => {
    const archive = await archiveOf([
      { name: Buffer.from('6d81686c65', 'hex'), data: wave, flags: 0 },
      { name: 'm\u00fchle', data: wave, flags: 0 },
      { name: Buffer.from('ff', 'hex'), data: wave },
    ])
    expect(archive.entries.map(({ name, encoding }) => [name, encoding])).toEqual([
      ['m\u00fchle', 'cp437'],
      ['m\u00fchle', 'utf-8'],
      [null, 'utf-8'],
    ])
  })

  test.each<[string, (zip: Uint8Array) => Uint8Array, string]>([
    ['cut in half', (zip) => zip.subarray(0, zip.length / 2), 'archive/damaged'],
    ['without its end', (zip) => zip.subarray(0, -22), 'archive/damaged'],
    ['empty', () => new Uint8Array(), 'archive/empty-file'],
    ['noise', () => new Uint8Array(5000).fill(7), 'archive/damaged'],
    ['a RAR archive by its first bytes', () => Buffer.from('526172211a0700', 'hex'), 'archive/kind'],
  ])('an archive that is %s is refused', async (_, shape, code) => {
    await expect(archiveOf([{ name: 'a.wav', data: wave }], null, shape)).rejects.toMatchObject({ code })
  })

  test('bytes before it, and a comment that looks like its end, do no harm', async () => {
    const fakeEnd = Buffer.concat([Buffer.from('504b0506', 'hex'), Buffer.alloc(18), Buffer.from('more')])
    const zip = Buffer.concat([
      Buffer.from('#!/bin/sh\n'),
      handMadeZip([{ name: 'a.wav', data: wave }], fakeEnd),
    ])
    const archive = await archiveOf([], null, () => zip)
    expect(await archive.read(0, 1e6)).toEqual(wave)
  })

  test('more entries than any font has are refused before one is read', async () => {
    const many = Array.from({ length: 10_001 }, (_, at) => ({
      name: `${at}`,
      data: new Uint8Array(),
      stored: true,
    }))
    await expect(archiveOf(many)).rejects.toMatchObject({ code: 'archive/too-many-entries' })
  })
})
