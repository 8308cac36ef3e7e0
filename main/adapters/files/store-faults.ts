import { AppError } from '../../../app/errors/app-error.ts'

interface StoredFile {
  readonly path: string
  readonly sha256: string
}

/** The bytes that a card's file is made of are not kept any more. */
export function missingInStore(file: StoredFile, cause?: unknown): AppError {
  return new AppError(
    {
      code: 'store/missing',
      what: 'The bytes of this file are not in the workshop any more.',
      where: file.path,
      mend: 'Scan the folder that it came from again.',
      kind: 'machine',
    },
    { cause },
  )
}

/** The bytes that a card's file is made of are kept, and wrong. */
export function damagedInStore(file: StoredFile): AppError {
  return new AppError({
    code: 'store/damaged',
    what: `The workshop's copy of this file is no longer what was kept (SHA-256 ${file.sha256}).`,
    where: file.path,
    mend: 'Remove that file from the store and scan the folder that it came from again; check the disk.',
    kind: 'machine',
  })
}
