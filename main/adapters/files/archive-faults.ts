import { AppError } from '../../../app/errors/app-error.ts'

/** A fault of an archive or of one entry, told in one sentence. */
export function archiveFault(code: string, what: string, mend: string, cause?: unknown): AppError {
  return new AppError(
    { code: `archive/${code}`, what, where: '', mend },
    cause === undefined ? {} : { cause },
  )
}

export const needsPassword = (): AppError =>
  archiveFault(
    'password-needed',
    'It is locked with a password.',
    'Give it by --password ARCHIVE=PASSWORD; it is not kept.',
  )
export const wrongPassword = (cause?: unknown): AppError =>
  archiveFault(
    'password-wrong',
    'The password does not open it.',
    'Give the right one; it is not kept.',
    cause,
  )

const ASK_AGAIN = 'Get it again from where it came.'
const UNPACK = 'Unpack it with the program that made it, and scan the folder.'

/** What the library says, by its words, as code, what and mend. It has no codes of its own. */
const KNOWN: readonly (readonly [said: RegExp, code: string, what: string, mend: string])[] = [
  [
    /^Overlapping entry/,
    'overlap',
    'It shares bytes with another entry, as no honest archive does.',
    ASK_AGAIN,
  ],
  [
    /^Ambiguous archive/,
    'contradicts',
    'Its headers contradict one another.',
    `Do not trust it. ${ASK_AGAIN}`,
  ],
  [
    /^Compression method not supported/,
    'method',
    'It is packed by a method that Cardwright does not know.',
    UNPACK,
  ],
  [
    /^Encryption method not|^Encrypted central/,
    'encryption',
    'It is locked by a method that Cardwright does not know.',
    UNPACK,
  ],
  [
    /^Split zip/,
    'split',
    'It is one part of an archive that was split.',
    'Join the parts with the program that made them.',
  ],
  [
    /^File format is not|^End of|^Central directory/,
    'damaged',
    'Its directory is missing or damaged, as when a download broke off.',
    ASK_AGAIN,
  ],
]

/** What reading an archive threw, as a report. @param isEncrypted whether a password took part */
export function asArchiveFault(thrown: unknown, isEncrypted: boolean): AppError {
  if (thrown instanceof AppError) return thrown
  const said = thrown instanceof Error ? thrown.message : ''
  if (/^Invalid (password|authentication)/.test(said)) return wrongPassword(thrown)
  for (const [pattern, code, what, mend] of KNOWN) {
    if (pattern.test(said)) return archiveFault(code, what, mend, thrown)
  }
  const system = (thrown as NodeJS.ErrnoException | null)?.code ?? ''
  if (system === 'EACCES' || system === 'EPERM') {
    return archiveFault('unreadable', 'This user may not read it.', 'Mend its permissions.', thrown)
  }
  if (/^E[A-Z]+$/.test(system)) {
    return archiveFault(
      'unreadable',
      `It could not be read (${system}).`,
      'Check the disk and the permissions.',
      thrown,
    )
  }
  // The old way of locking lets one wrong password in 256 through: then the bytes come out wrong.
  if (isEncrypted) return wrongPassword(thrown)
  return archiveFault(
    'entry-damaged',
    'Its bytes are damaged: they do not unpack to what the archive promises.',
    ASK_AGAIN,
    thrown,
  )
}
