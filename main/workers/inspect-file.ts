import { inspectSound, type InspectionTools, type SoundReading } from '../../app/audio/inspect-sound.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { InspectedSound } from '../../app/ports/sound-inspector.ts'
import { newSha256 } from '../adapters/files/new-sha256.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'
import { unreadableFile } from './inspect-problems.ts'

/** A job is cancelled by ending its worker: the work is synchronous and hears no message meanwhile. */
export const cancel = () => {}

function tools(kernel: Kernel): InspectionTools {
  return { kernel, newHasher: newSha256, cancel }
}

/** Reads one file of the disk; one that cannot be read gives a `problem`. */
export async function inspectFile(path: string, kernel: Kernel): Promise<InspectedSound> {
  try {
    const reading = readOpened(path, (source) => inspectSound(source, tools(kernel)))
    return reading.needsDecoder ? await decoded(path, reading, kernel) : reading
  } catch (error) {
    return unreadableFile(error)
  }
}

/** Reads bytes at hand. */
export async function inspectBytes(bytes: Uint8Array, name: string, kernel: Kernel): Promise<InspectedSound> {
  const reading = inspectSound(bytesSource(bytes), tools(kernel))
  if (!reading.needsDecoder) return reading
  const { inspectByDecoder } = await import('./inspect-by-decoder.ts')
  try {
    return await inspectByDecoder({ name, bytes }, reading, tools(kernel))
  } catch (error) {
    return unreadableFile(error)
  }
}

/** The decoders are loaded only where a file needs one: they take longer to load than to use. */
async function decoded(path: string, reading: SoundReading, kernel: Kernel): Promise<InspectedSound> {
  const { inspectByDecoder } = await import('./inspect-by-decoder.ts')
  return inspectByDecoder({ path }, reading, tools(kernel))
}

/** Opens a file for as long as it is read. */
export function readOpened<T>(path: string, read: (source: ReturnType<typeof openFileSource>) => T): T {
  const source = openFileSource(path)
  try {
    return read(source)
  } finally {
    source.close()
  }
}
