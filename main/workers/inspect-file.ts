import { inspectSound, type SoundReading } from '../../app/audio/inspect-sound.ts'
import type { CancelCheck } from '../../app/ports/bytes.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { InspectedSound } from '../../app/ports/sound-inspector.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'
import { newSha256 } from '../adapters/files/new-sha256.ts'

/** Reads one file of the disk; one that cannot be read gives a `problem`. */
export function inspectFile(
  path: string,
  kernel: Kernel,
  cancel: CancelCheck,
): SoundReading | InspectedSound {
  try {
    const source = openFileSource(path)
    try {
      return inspectSound(source, { kernel, newHasher: newSha256, cancel })
    } finally {
      source.close()
    }
  } catch (error) {
    const code = errorCode(error)
    if (code === undefined) throw error
    return unreadable(code)
  }
}

/** Reads bytes at hand. */
export function inspectBytes(bytes: Uint8Array, kernel: Kernel, cancel: CancelCheck): SoundReading {
  return inspectSound(bytesSource(bytes), { kernel, newHasher: newSha256, cancel })
}

/** An inspection that says only what went wrong. */
export function problemOnly(code: string, message: string): InspectedSound {
  return {
    inspection: {
      sha256: '',
      sizeBytes: 0,
      sampleHash: null,
      facts: null,
      measures: null,
      problem: { code, message },
    },
    peaks: null,
  }
}

const SENTENCES: Readonly<Record<string, { code: string; message: string }>> = {
  ENOENT: { code: 'file/missing', message: 'There is no such file; it may have been moved or renamed.' },
  EACCES: { code: 'file/no-permission', message: 'This user may not read the file; mend its permissions.' },
  EPERM: { code: 'file/no-permission', message: 'This user may not read the file; mend its permissions.' },
  EISDIR: { code: 'file/is-folder', message: 'This is a folder, not a file; name the files in it.' },
}

function unreadable(systemCode: string): InspectedSound {
  const known = SENTENCES[systemCode]
  return problemOnly(
    known?.code ?? 'file/unreadable',
    known?.message ?? `The file could not be read (${systemCode}); copy it afresh, or check the disk.`,
  )
}

function errorCode(error: unknown): string | undefined {
  const code = error instanceof Error ? (error as NodeJS.ErrnoException).code : undefined
  return typeof code === 'string' && /^E[A-Z]/.test(code) && !code.startsWith('ERR_') ? code : undefined
}
