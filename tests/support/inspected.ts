import { inspectSound, type SoundReading } from '../../app/audio/inspect-sound.ts'
import type { AudioFacts } from '../../app/model/audio-facts.ts'
import type { Measures } from '../../app/model/measures.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import { bytesSource } from '../../main/workers/file-byte-source.ts'
import { openKernel } from '../../main/workers/open-kernel.ts'
import { nodeHasher } from './node-hasher.ts'

let shared: Kernel | undefined

/** Inspects bytes with the product's kernel, or another. */
export function inspected(bytes: Uint8Array, kernel?: Kernel): SoundReading {
  shared ??= openKernel()
  return inspectSound(bytesSource(bytes), {
    kernel: kernel ?? shared,
    newHasher: nodeHasher,
    cancel: () => {},
  })
}

/** The measures of a sound that has some. */
export function measured(bytes: Uint8Array, kernel?: Kernel): Measures {
  const { measures } = inspected(bytes, kernel).inspection
  if (measures === null) throw new Error('nothing was measured')
  return measures
}

/** The facts of a WAV. */
export function factsOf(bytes: Uint8Array): AudioFacts {
  const { facts } = inspected(bytes).inspection
  if (facts === null) throw new Error('it was taken for no WAV')
  return facts
}
