import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { Readable } from 'node:stream'
import { AppError } from '../app/errors/app-error.ts'
import type { ContentStore } from '../app/ports/content-store.ts'
import type { LibraryFiles, OpenArchive } from '../app/ports/library-files.ts'
import type { FoundSound, LibraryReader } from '../app/ports/library-records.ts'
import type { PreparationReader } from '../app/ports/preparation-records.ts'
import { INTO_ARCHIVE } from '../app/usecases/scan/known-files.ts'
import { vetEntries } from '../app/usecases/scan/vet-entries.ts'
import { openFileHashes, type FileHashes } from './file-hashes.ts'
import type { OpenedSound, OpenSound } from './sound-opener.ts'

/** What a sound is read from. */
export interface SoundSources {
  readonly library: Pick<LibraryReader, 'findSound' | 'findContentPlaces'>
  readonly store: ContentStore
  readonly openFiles: () => LibraryFiles
  readonly preparation: Pick<PreparationReader, 'listPreparedSounds'>
  /** @throws AppError `board/unknown` */
  readonly boardHashOf: (boardId: string) => Promise<string>
}

/** A sound inside an archive is unpacked into memory to be played. */
const LARGEST_UNPACKED_BYTES = 128 * 2 ** 20
const NOBODY_CANCELS = {
  aborted: false,
  addEventListener: () => undefined,
  removeEventListener: () => undefined,
}

/**
 * Opens sounds by id: from the store, else from wherever the last scan saw these bytes. Prepared ones
 * are in the store. What no longer has its hash is not opened.
 */
export function soundOpener(sources: SoundSources): OpenSound {
  const hashes = openFileHashes()
  return async (soundId, preparedForBoardId) => {
    const sound = await sources.library.findSound(soundId)
    if (sound === undefined) throw unknownSound(soundId)
    if (preparedForBoardId !== undefined) return openedPrepared(sound, preparedForBoardId, sources, hashes)
    const kept = await sources.store.pathOf(sound.sha256)
    if (kept !== undefined && (await hashes.hashOf(kept)) === sound.sha256) {
      return openedFile(kept, sound.sizeBytes)
    }
    let fault: unknown
    for (const { rootPath, path } of await sources.library.findContentPlaces(sound.sha256)) {
      try {
        const opened = await openedAt(rootPath, path, sound, sources, hashes)
        if (opened !== null) return opened
      } catch (error) {
        fault = error
      }
    }
    throw fault instanceof AppError ? fault : soundGone(sound)
  }
}

/** Of a sound that needed nothing, original and prepared are the same bytes. */
async function openedPrepared(
  sound: FoundSound,
  boardId: string,
  { preparation, boardHashOf, store }: SoundSources,
  hashes: FileHashes,
): Promise<OpenedSound> {
  const rows = await preparation.listPreparedSounds([sound.editionId], await boardHashOf(boardId))
  const row = rows.find(({ path, originalSha256 }) => path === sound.path && originalSha256 === sound.sha256)
  const kept = row === undefined ? undefined : await store.pathOf(row.preparedSha256)
  if (kept === undefined) throw notPrepared(sound, boardId)
  if ((await hashes.hashOf(kept)) !== row?.preparedSha256) throw damaged(sound)
  return openedFile(kept, (await stat(kept)).size)
}

/** Null where something else lies there by now. */
async function openedAt(
  rootPath: string,
  path: string,
  sound: FoundSound,
  sources: SoundSources,
  hashes: FileHashes,
): Promise<OpenedSound | null> {
  const [outer = '', ...inner] = path.split(INTO_ARCHIVE)
  const file = await placeOf(rootPath, outer)
  if (inner.length > 0) return openedEntry(file, inner, sound, sources)
  const facts = await stat(file)
  if (!facts.isFile() || facts.size !== sound.sizeBytes) return null
  return (await hashes.hashOf(file)) === sound.sha256 ? openedFile(file, facts.size) : null
}

/** A root that is an archive has one file: itself. */
async function placeOf(rootPath: string, outer: string): Promise<string> {
  const isFolder = (await stat(rootPath)).isDirectory()
  return isFolder
    ? join(rootPath, ...outer.split('/'))
    : outer === '' || outer === basename(rootPath)
      ? rootPath
      : join(dirname(rootPath), outer)
}

function openedFile(path: string, sizeBytes: number): OpenedSound {
  return {
    sizeBytes,
    read: (start, end) =>
      Readable.toWeb(
        createReadStream(path, { start, end: Math.max(start, end - 1) }),
      ) as ReadableStream<Uint8Array>,
  }
}

async function openedEntry(
  file: string,
  inner: readonly string[],
  sound: FoundSound,
  { openFiles }: SoundSources,
): Promise<OpenedSound | null> {
  const files = openFiles()
  try {
    const bytes = await entryBytes(await files.openArchive(file, null, NOBODY_CANCELS), inner)
    if (bytes === null || createHash('sha256').update(bytes).digest('hex') !== sound.sha256) return null
    return { sizeBytes: bytes.length, read: (start, end) => streamOf(bytes.subarray(start, end)) }
  } finally {
    await files.close()
  }
}

/** @param inner path of the entry; before it those of the archives it lies in */
async function entryBytes(archive: OpenArchive, inner: readonly string[]): Promise<Uint8Array | null> {
  try {
    const [path, ...deeper] = inner
    const entry = vetEntries(archive.entries).files.find((each) => each.path === path)
    if (entry === undefined) return null
    if (deeper.length === 0) return await archive.read(entry.index, LARGEST_UNPACKED_BYTES)
    return await entryBytes(await archive.openInner(entry.index, null), deeper)
  } finally {
    await archive.close()
  }
}

function streamOf(bytes: Uint8Array): ReadableStream<Uint8Array> {
  return new ReadableStream({
    start(controller) {
      if (bytes.length > 0) controller.enqueue(bytes)
      controller.close()
    },
  })
}

function unknownSound(soundId: string): AppError {
  return new AppError({
    code: 'sound/unknown',
    what: 'The library has no sound of this id.',
    where: soundId,
    mend: 'Reload the font; it may have been scanned anew.',
  })
}

function notPrepared(sound: FoundSound, boardId: string): AppError {
  return new AppError({
    code: 'sound/not-prepared',
    what: `It has not been prepared for ${boardId}, or its original has changed since.`,
    where: sound.path,
    mend: 'Prepare the font for this board.',
  })
}

function damaged(sound: FoundSound): AppError {
  return new AppError({
    code: 'store/damaged',
    what: 'What was prepared of this sound is no longer what was kept.',
    where: sound.path,
    mend: 'Remove that file from the store and prepare again; check the disk.',
    kind: 'machine',
  })
}

function soundGone(sound: FoundSound): AppError {
  return new AppError({
    code: 'sound/gone',
    what: 'Its file is gone or has changed since the last scan.',
    where: sound.path,
    mend: 'Scan its folder again.',
  })
}
