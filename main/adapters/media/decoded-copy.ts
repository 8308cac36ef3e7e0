import { join } from 'node:path'
import type { SoundKind } from '../../../app/audio/sniff-kind.ts'
import { withTemporaryFolder } from '../files/temporary-folder.ts'
import { decodeByFfmpeg } from './decode-by-ffmpeg.ts'

/**
 * Decodes a sound into a temporary WAV, lets `use` read it, and removes it whatever happens.
 * @throws as decodeByFfmpeg, and what `use` throws
 */
export function withDecodedCopy<T>(
  path: string,
  kind: Exclude<SoundKind, 'other'>,
  use: (wavPath: string) => T,
): Promise<T> {
  return withTemporaryFolder(async (folder) => {
    const wavPath = join(folder, 'decoded.wav')
    await decodeByFfmpeg(path, kind, wavPath)
    return use(wavPath)
  })
}
