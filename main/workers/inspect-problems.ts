import type { InspectedSound } from '../../app/ports/sound-inspector.ts'

/** An inspection that says only what went wrong. */
export function problemOnly(code: string, message: string): InspectedSound {
  const problem = { code, message }
  return {
    inspection: { sha256: '', sizeBytes: 0, sampleHash: null, facts: null, measures: null, problem },
    peaks: null,
  }
}

const NO_ROOM_TO_DECODE = [
  'file/no-room-to-decode',
  'The disk for temporary files has no room to decode it; free some, then scan again.',
] as const
const SENTENCES: Readonly<Record<string, readonly [code: string, message: string]>> = {
  ENOENT: ['file/missing', 'There is no such file; it may have been moved or renamed.'],
  EACCES: ['file/no-permission', 'This user may not read the file; mend its permissions.'],
  EPERM: ['file/no-permission', 'This user may not read the file; mend its permissions.'],
  ENOSPC: NO_ROOM_TO_DECODE,
  EDQUOT: NO_ROOM_TO_DECODE,
  EFBIG: NO_ROOM_TO_DECODE,
  EISDIR: ['file/is-folder', 'This is a folder, not a file; name the files in it.'],
}

/**
 * What a fault of the machine while reading a file tells the user.
 * @throws the fault itself where it is none of the machine's: then it is ours
 */
export function unreadableFile(error: unknown): InspectedSound {
  const code = error instanceof Error ? (error as NodeJS.ErrnoException).code : undefined
  if (typeof code !== 'string' || !/^E[A-Z0-9]+$/.test(code)) throw error
  const [known, message] = SENTENCES[code] ?? [
    'file/unreadable',
    `The file could not be read (${code}); copy it afresh, or check the disk.`,
  ]
  return problemOnly(known, message)
}
