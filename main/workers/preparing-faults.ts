import { toReport, type ErrorReport } from '../../app/errors/app-error.ts'

/** What a fault of the machine while sounds are prepared tells the user; any other comes as it is. */
export function preparingFault(error: unknown): ErrorReport {
  const code = (error as NodeJS.ErrnoException | null)?.code
  if (typeof code !== 'string' || !/^E[A-Z0-9]+$/.test(code)) return toReport(error)
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG') {
    return {
      code: 'prepare/disk-full',
      what: 'The disk has no room for what is being prepared.',
      where: '',
      mend: 'Free some space and prepare again; what is done is kept.',
    }
  }
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') {
    return {
      code: 'prepare/no-permission',
      what: `This user may not use a file or folder that preparing needs (${code}).`,
      where: '',
      mend: 'Mend the permissions of the workshop, then prepare again; what is done is kept.',
    }
  }
  return {
    code: 'prepare/disk-fault',
    what: `The disk gave an error while it was prepared (${code}).`,
    where: '',
    mend: 'Check the disk and its permissions, then prepare again; what is done is kept.',
  }
}
