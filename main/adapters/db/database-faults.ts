import { AppError, type ErrorReport, type ExitKind } from '../../../app/errors/app-error.ts'

type Told = Omit<ErrorReport, 'where'> & { readonly kind?: ExitKind }

const DAMAGED: Told = {
  code: 'workshop/damaged',
  what: 'The database of the workshop is damaged, or no database of Cardwright.',
  mend: 'Put back a copy from the workshop’s `backups` folder, or move the file away to begin anew.',
}
const NO_PERMISSION: Told = {
  code: 'workshop/no-permission',
  what: 'The workshop may not be read or written by this account.',
  mend: 'Give this account the right to write there, or name another folder with --workshop.',
}
const NOT_A_FOLDER: Told = {
  code: 'workshop/not-a-folder',
  what: 'There is a file where the workshop’s folder should be.',
  mend: 'Name another folder with --workshop.',
  kind: 'input',
}
const BUSY: Told = {
  code: 'workshop/busy',
  what: 'Another Cardwright is writing to the workshop and did not finish in time.',
  mend: 'Wait for it to finish, then try again.',
}
const DISK_FULL: Told = {
  code: 'workshop/disk-full',
  what: 'The disk that holds the workshop is full; nothing was changed.',
  mend: 'Free some space, then try again.',
}
const UNREADABLE: Told = {
  code: 'workshop/unreadable',
  what: 'The disk that holds the workshop gave an error.',
  mend: 'Check the disk and its connection, then try again.',
}
const UNWRITABLE: Told = {
  code: 'workshop/unwritable',
  what: 'The disk refused to take what the workshop wanted to write; nothing was changed.',
  mend: 'Check the disk, and limits of this account on the size of files, then try again.',
}
const MOVED: Told = {
  code: 'workshop/moved',
  what: 'The database of the workshop was moved or deleted while it was open.',
  mend: 'Put it back, then start Cardwright again.',
}

/** Beginnings of the codes of SQLite and of the operating system, the longest match first. */
const BY_CODE: readonly (readonly [string, Told])[] = [
  ['SQLITE_READONLY_DBMOVED', MOVED],
  ['SQLITE_BUSY', BUSY],
  ['SQLITE_LOCKED', BUSY],
  ['SQLITE_CORRUPT', DAMAGED],
  ['SQLITE_NOTADB', DAMAGED],
  ['SQLITE_FULL', DISK_FULL],
  ['SQLITE_READONLY', NO_PERMISSION],
  ['SQLITE_CANTOPEN', NO_PERMISSION],
  ['SQLITE_PERM', NO_PERMISSION],
  ['SQLITE_AUTH', NO_PERMISSION],
  ['SQLITE_IOERR_SHORT_READ', DAMAGED],
  ['SQLITE_IOERR_WRITE', UNWRITABLE],
  ['SQLITE_IOERR_FSYNC', UNWRITABLE],
  ['SQLITE_IOERR_TRUNCATE', UNWRITABLE],
  ['SQLITE_IOERR_SHMSIZE', UNWRITABLE],
  ['SQLITE_IOERR', UNREADABLE],
  ['EACCES', NO_PERMISSION],
  ['EPERM', NO_PERMISSION],
  ['EROFS', NO_PERMISSION],
  ['EEXIST', NOT_A_FOLDER],
  ['ENOTDIR', NOT_A_FOLDER],
  ['ENOSPC', DISK_FULL],
  ['EDQUOT', DISK_FULL],
  ['EFBIG', UNWRITABLE],
  ['EIO', UNREADABLE],
]

/** Turns what SQLite or the disk threw into what a user is told; anything else comes back as it is. */
export function databaseFault(thrown: unknown, where: string): unknown {
  if (thrown instanceof AppError || !(thrown instanceof Error)) return thrown
  const code = 'code' in thrown ? String(thrown.code) : ''
  const told = BY_CODE.find(([beginning]) => code.startsWith(beginning))?.[1]
  return told === undefined ? thrown : new AppError({ kind: 'machine', ...told, where }, { cause: thrown })
}

export function busy(where: string, cause: unknown): AppError {
  return new AppError({ ...BUSY, where, kind: 'machine' }, { cause })
}

/** Whether another connection holds the lock that this one wanted. */
export function isBusy(error: unknown): boolean {
  return error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_BUSY')
}
