import type { ScanProblem } from '../../../app/model/library.ts'

type WalkCode =
  | 'walk/link'
  | 'walk/special'
  | 'walk/unreadable-folder'
  | 'walk/unreadable-file'
  | 'walk/name-not-utf8'
  | 'walk/path-too-long'
  | 'walk/too-deep'

/** What a walk left out, in one sentence. Links and special files are left out on purpose. */
export function walkProblem(code: WalkCode, path: string, error?: unknown, kind?: string): ScanProblem {
  const cause = (error as NodeJS.ErrnoException | null | undefined)?.code ?? ''
  switch (code) {
    case 'walk/link':
      return note(
        code,
        path,
        'It is a symbolic link, which a scan does not follow; name what it points to if you want it.',
      )
    case 'walk/special':
      return note(code, path, `It is ${kind ?? 'a special file'}, not a file; it was not touched.`)
    case 'walk/name-not-utf8':
      return fault(
        code,
        path,
        'Its name is no UTF-8 (odd bytes are shown as %xx), so it was left out; rename it.',
      )
    case 'walk/too-deep':
      return fault(
        code,
        path,
        'It lies in too many folders inside one another, so it was left out; move it up or scan it by name.',
      )
    default:
      return unreadable(code, path, cause)
  }
}

function unreadable(code: WalkCode, path: string, cause: string): ScanProblem {
  const thing = code === 'walk/unreadable-folder' ? 'folder' : 'file'
  if (cause === 'ENAMETOOLONG') {
    const message = `The ${thing}'s path is longer than this system can open, so it was left out; move it up or shorten the folders' names.`
    return fault('walk/path-too-long', path, message)
  }
  if (cause === 'EACCES' || cause === 'EPERM') {
    return fault(code, path, `This user may not read the ${thing}, so it was left out; mend its permissions.`)
  }
  if (cause === 'ENOENT')
    return fault(code, path, `The ${thing} went away while the scan looked; scan again.`)
  return fault(
    code,
    path,
    `The ${thing} could not be read (${cause || 'unknown cause'}), so it was left out; check the disk.`,
  )
}

/** What a special file is, in words; null for a kind that tells nothing. */
export function kindInWords(it: {
  isFIFO(): boolean
  isSocket(): boolean
  isBlockDevice(): boolean
  isCharacterDevice(): boolean
}): string | null {
  if (it.isFIFO()) return 'a pipe'
  if (it.isSocket()) return 'a socket'
  return it.isBlockDevice() || it.isCharacterDevice() ? 'a device' : null
}

function fault(code: string, path: string, message: string): ScanProblem {
  return { path, code, message, severity: 'fault' }
}

function note(code: string, path: string, message: string): ScanProblem {
  return { path, code, message, severity: 'note' }
}
