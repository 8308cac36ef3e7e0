import { constants } from 'node:fs'
import { access, open, stat } from 'node:fs/promises'
import { resolve } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'
import type { LookedAt } from '../../../app/ports/library-files.ts'
import { extensionOf } from '../../../app/usecases/scan/file-kinds.ts'
import { ARCHIVE_HEAD_BYTES, archiveKindOf, type ArchiveKind } from './archive-kind.ts'

/**
 * Tells what a user named for scanning. A symbolic link is followed here, since it was named itself.
 * @throws AppError as `LibraryFiles.look`
 */
export async function lookAtPath(path: string): Promise<LookedAt> {
  const absolute = resolve(path)
  try {
    const facts = await stat(absolute)
    if (facts.isDirectory()) {
      await access(absolute, constants.R_OK | constants.X_OK)
      return { path: absolute, kind: 'folder' }
    }
    if (!facts.isFile()) throw neither(absolute, 'It is neither a folder nor a file.')
    const kind = await kindOfFile(absolute)
    if (kind?.isZip === true || extensionOf(absolute) === 'zip') return { path: absolute, kind: 'archive' }
    if (kind !== null) throw otherArchive(absolute, kind)
  } catch (error) {
    throw pathFault(error, absolute)
  }
  throw neither(absolute, 'It is a file and no archive.')
}

async function kindOfFile(path: string): Promise<ArchiveKind | null> {
  const handle = await open(path, 'r')
  try {
    const head = new Uint8Array(ARCHIVE_HEAD_BYTES)
    const { bytesRead } = await handle.read(head, 0, head.length, 0)
    return archiveKindOf(head.subarray(0, bytesRead))
  } finally {
    await handle.close()
  }
}

/** What the system said about a path that the user named. */
export function pathFault(thrown: unknown, path: string): unknown {
  if (thrown instanceof AppError) return thrown
  const code = (thrown as NodeJS.ErrnoException | null)?.code
  if (typeof code !== 'string' || !/^E[A-Z0-9]+$/.test(code)) return thrown
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    return fault(
      'scan/no-such-path',
      'There is no such folder or archive.',
      'Check the spelling, or plug in the disk it is on.',
      path,
      thrown,
    )
  }
  if (code === 'EACCES' || code === 'EPERM') {
    return fault(
      'scan/no-permission',
      'This user may not read it.',
      'Mend its permissions, or ask who owns it.',
      path,
      thrown,
      'machine',
    )
  }
  return fault(
    'scan/unreadable',
    `It cannot be read (${code}).`,
    'Check the path and the disk.',
    path,
    thrown,
    'machine',
  )
}

function neither(path: string, what: string): AppError {
  return fault(
    'scan/not-a-folder-or-archive',
    what,
    'Name the folder that the sounds are in, or a zip archive of one.',
    path,
  )
}

function otherArchive(path: string, { words }: ArchiveKind): AppError {
  return fault(
    'scan/archive-kind',
    `It is ${words}, which Cardwright does not open.`,
    'Unpack it with the program that made it, and scan the folder.',
    path,
  )
}

function fault(
  code: string,
  what: string,
  mend: string,
  where: string,
  cause?: unknown,
  kind: 'input' | 'machine' = 'input',
): AppError {
  return new AppError({ code, what, where, mend, kind }, cause === undefined ? {} : { cause })
}
