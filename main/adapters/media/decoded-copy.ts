import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { SoundKind } from '../../../app/audio/sniff-kind.ts'
import { decodeByFfmpeg } from './decode-by-ffmpeg.ts'

/**
 * Decodes a sound into a temporary WAV, lets `use` read it, and removes it whatever happens.
 * @throws as decodeByFfmpeg, and what `use` throws
 */
export async function withDecodedCopy<T>(
  path: string,
  kind: Exclude<SoundKind, 'other'>,
  use: (wavPath: string) => T,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'cardwright-decoded-'))
  try {
    const wavPath = join(folder, 'decoded.wav')
    await decodeByFfmpeg(path, kind, wavPath)
    return use(wavPath)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}
