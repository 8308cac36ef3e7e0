import { AppError } from '../../../app/errors/app-error.ts'
import { toldFault, type FaultInWords } from './told-fault.ts'

/** Turns what the operating system said about a target that is being filled into a report. */
export function targetFault(thrown: unknown, where: string): unknown {
  return toldFault(thrown, where, FAULTS, (code) => ({
    code: 'target/write-failed',
    what: `It could not be read or written (${code}).`,
    mend: 'Check that the card is well seated and not failing, then run it again.',
  }))
}

/** The folder is not where it was, or another volume is there now. */
export function targetGone(where: string, cause?: unknown): AppError {
  return new AppError({ ...GONE, where, kind: 'machine' }, cause === undefined ? {} : { cause })
}

const GONE = {
  code: 'target/gone',
  what: 'The card or folder went away while it was being written; nothing was recorded.',
  mend: 'Put the card in again and run the same once more: it mends what was left half-made.',
}
const FULL = {
  code: 'target/disk-full',
  what: 'There is no more room on it.',
  mend: 'Use a larger card, or leave a font out; nothing was recorded.',
}
const READ_ONLY = {
  code: 'target/read-only',
  what: 'It may not be written to.',
  mend: "Push the card's lock switch up, mount it for writing, or mend the folder's permissions.",
}

const CHANGED = {
  code: 'target/changed-meanwhile',
  what: 'Something else changed it while the card was being written.',
  mend: 'Close other programs that use the card, then run it again; nothing was recorded.',
}

const DAMAGED = {
  code: 'target/damaged',
  what: 'The file system does not give it back (EIO): it is damaged, or the card is failing.',
  mend: 'Have it checked (Windows: `chkdsk E: /f`; macOS: First Aid in Disk Utility; Linux: unmount it, then `fsck.fat -a`) or format it anew, then run it again.',
}

const FAULTS: Readonly<Record<string, FaultInWords>> = {
  ENOSPC: FULL,
  EDQUOT: FULL,
  EFBIG: {
    code: 'target/file-limit',
    what: 'The disk, or a limit of this account, allows no file as large as this one.',
    mend: 'Write to another card or folder; nothing was recorded.',
  },
  EROFS: READ_ONLY,
  EACCES: READ_ONLY,
  EPERM: READ_ONLY,
  ENODEV: GONE,
  ENXIO: GONE,
  ENOTCONN: GONE,
  ESTALE: GONE,
  ENOENT: CHANGED,
  ENOTDIR: CHANGED,
  EEXIST: CHANGED,
  EIO: DAMAGED,
  ENOTEMPTY: CHANGED,
}
