import { mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'
import type { DemoFile, DemoFolder, DemoPlace } from '../../../app/ports/demo-folder.ts'

/** Archives carry local times without a zone: these parts, not an instant, are the same everywhere. */
const ARCHIVE_DATE = new Date(2026, 0, 1)

/** The demo's fonts in a real folder. A font is written beside its place and renamed to it. */
export function writtenDemoFolder(path: string): DemoFolder {
  return {
    path,
    async writeFont(place, files) {
      const target = join(path, ...placeOf(place).split('/'))
      const half = join(dirname(path), `.half-${process.pid}-${placeOf(place).replaceAll('/', '-')}`)
      try {
        await rm(half, { recursive: true, force: true })
        await mkdir(dirname(target), { recursive: true })
        if ('archive' in place) await writeFile(half, await zipped(place.inner, files))
        else await writeFiles(half, files)
        await rm(target, { recursive: true, force: true })
        await rename(half, target)
      } catch (error) {
        await rm(half, { recursive: true, force: true }).catch(() => undefined)
        throw asAppError(error, target)
      }
    },
  }
}

function placeOf(place: DemoPlace): string {
  return 'archive' in place ? place.archive : place.folder
}

async function writeFiles(folder: string, files: readonly DemoFile[]): Promise<void> {
  for (const file of files) {
    const path = join(folder, ...file.path.split('/'))
    await mkdir(dirname(path), { recursive: true })
    await writeFile(path, file.contents())
  }
}

/** Stored, not compressed: compressed bytes may differ between versions of the library. */
async function zipped(inner: string, files: readonly DemoFile[]): Promise<Uint8Array> {
  // Loaded here: every start of the program would pay for what the demo alone needs.
  const { Uint8ArrayWriter, Uint8ArrayReader, TextReader, ZipWriter } = await import('@zip.js/zip.js')
  const zip = new ZipWriter(new Uint8ArrayWriter(), {
    level: 0,
    lastModDate: ARCHIVE_DATE,
    extendedTimestamp: false,
    useWebWorkers: false,
  })
  for (const file of files) {
    const contents = file.contents()
    await zip.add(
      `${inner}/${file.path}`,
      typeof contents === 'string' ? new TextReader(contents) : new Uint8ArrayReader(contents),
    )
  }
  return zip.close()
}

function asAppError(error: unknown, target: string): unknown {
  const code = (error as NodeJS.ErrnoException).code
  if (code === 'ENOSPC' || code === 'EDQUOT') {
    return new AppError(
      {
        code: 'demo/disk-full',
        what: 'The disk is full.',
        where: target,
        mend: 'Free about 20 MB, or name a workshop on another disk with --workshop.',
        kind: 'machine',
      },
      { cause: error },
    )
  }
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') {
    return new AppError(
      {
        code: 'demo/no-permission',
        what: 'This user may not write there.',
        where: target,
        mend: 'Mend its permissions, or name another workshop with --workshop.',
        kind: 'machine',
      },
      { cause: error },
    )
  }
  if (code === undefined) return error
  return new AppError(
    {
      code: 'demo/unwritable',
      what: `The demo's fonts could not be written (${code}).`,
      where: target,
      mend: 'Try again, or name another workshop with --workshop.',
      kind: 'machine',
    },
    { cause: error },
  )
}
