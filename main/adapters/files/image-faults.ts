import { AppError } from '../../../app/errors/app-error.ts'
import { toldFault, type FaultInWords } from './told-fault.ts'

/** Turns what the operating system said about an image that is being written into a report. */
export function imageFault(thrown: unknown, imagePath: string): unknown {
  return toldFault(thrown, imagePath, FAULTS, (code) => ({
    code: 'image/write-failed',
    what: `The image could not be written (${code}).`,
    mend: 'Check the disk, or write it elsewhere.',
  }))
}

export function diskFull(imagePath: string, figures: string): AppError {
  return new AppError({
    ...DISK_FULL,
    what: `${DISK_FULL.what}${figures}`,
    where: imagePath,
    kind: 'machine',
  })
}

export function imageExists(imagePath: string): AppError {
  return new AppError({
    code: 'image/exists',
    what: 'There is already a file of this name.',
    where: imagePath,
    mend: 'Choose another name, or say that it may be replaced (`--replace`).',
  })
}

const DISK_FULL = {
  code: 'image/disk-full',
  what: 'The disk has no room for the image.',
  mend: 'Free some space or write it to another disk; nothing was left behind.',
}
const NO_PERMISSION = {
  code: 'image/no-permission',
  what: 'The image may not be written here.',
  mend: 'Choose a folder that you may write to.',
}
const NO_FOLDER = {
  code: 'image/folder-missing',
  what: 'The folder for the image does not exist.',
  mend: 'Make the folder first, or choose another.',
}

const FAULTS: Readonly<Record<string, FaultInWords>> = {
  ENOSPC: DISK_FULL,
  EDQUOT: DISK_FULL,
  EFBIG: {
    code: 'image/file-limit',
    what: 'The disk, or a limit of this account, allows no file as large as the image.',
    mend: 'Write it to another disk; nothing was left behind.',
  },
  EACCES: NO_PERMISSION,
  EPERM: NO_PERMISSION,
  EROFS: NO_PERMISSION,
  ENOENT: NO_FOLDER,
  ENOTDIR: NO_FOLDER,
}
