import { inspectSound, type InspectionTools, type SoundReading } from '../../app/audio/inspect-sound.ts'
import { throughSpeaker } from '../../app/audio/measure/through-speaker.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { InspectedSound, SpeakerReadings } from '../../app/ports/sound-inspector.ts'
import { newSha256 } from '../adapters/files/new-sha256.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'
import { unreadableFile } from './inspect-problems.ts'

// A job is cancelled by ending its worker: the work is synchronous and hears no message meanwhile.
const cancel = () => {}

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
  return inspectByDecoder({ name, bytes }, reading, tools(kernel))
}

/** Measures one file through a speaker; one that cannot be read gives no readings. */
export async function measureFileThroughSpeaker(
  path: string,
  limitHz: number,
  kernel: Kernel,
): Promise<SpeakerReadings> {
  try {
    return readOpened(path, (source) => throughSpeaker(source, limitHz, kernel, cancel))
  } catch (error) {
    unreadableFile(error)
    return { integratedLufs: null, momentaryMaxLufs: null }
  }
}

/** The decoders are loaded only where a file needs one: they take longer to load than to use. */
async function decoded(path: string, reading: SoundReading, kernel: Kernel): Promise<InspectedSound> {
  const { inspectByDecoder } = await import('./inspect-by-decoder.ts')
  return inspectByDecoder({ path }, reading, tools(kernel))
}

function readOpened<T>(path: string, read: (source: ReturnType<typeof openFileSource>) => T): T {
  const source = openFileSource(path)
  try {
    return read(source)
  } finally {
    source.close()
  }
}
