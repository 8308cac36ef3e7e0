import { throughSpeaker } from '../../app/audio/measure/through-speaker.ts'
import { sniffKind } from '../../app/audio/sniff-kind.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { SpeakerReadings } from '../../app/ports/sound-inspector.ts'
import { hashFile } from '../adapters/files/hash-file.ts'
import { openFileSource } from './file-byte-source.ts'
import { cancel } from './inspect-file.ts'
import { unreadableFile } from './inspect-problems.ts'

/** What no speaker gives, whatever is tried again. */
const SILENT: SpeakerReadings = { integratedLufs: null, momentaryMaxLufs: null }

/**
 * Measures one file through a speaker; what is no PCM or float WAV is decoded for it.
 *
 * @param sha256 hash that it must have still; null where any will do
 * @returns null where it cannot be read, or is another file by now
 */
export async function hearFile(
  path: string,
  sha256: string | null,
  limitHz: number,
  kernel: Kernel,
): Promise<SpeakerReadings | null> {
  if (sha256 !== null && hashFile({ path, sizeBytes: 0 }).sha256 !== sha256) return null
  const hear = (wavPath: string) => hearOpened(wavPath, limitHz, kernel)
  try {
    const { readings, head } = hear(path)
    return readings ?? (await heardByDecoder(path, head, hear))
  } catch (error) {
    if (error instanceof AppError) return null
    unreadableFile(error)
    return null
  }
}

/** Null readings where it needs a decoder. */
function hearOpened(
  path: string,
  limitHz: number,
  kernel: Kernel,
): { readings: SpeakerReadings | null; head: Uint8Array } {
  const source = openFileSource(path)
  try {
    const head = new Uint8Array(4096)
    const length = source.readInto(head, 0)
    return {
      readings: throughSpeaker(source, limitHz, kernel, cancel),
      head: head.subarray(0, length),
    }
  } finally {
    source.close()
  }
}

async function heardByDecoder(
  path: string,
  head: Uint8Array,
  hear: (wavPath: string) => { readings: SpeakerReadings | null },
): Promise<SpeakerReadings | null> {
  const kind = sniffKind(head)
  if (kind === 'other') return SILENT
  const { withDecodedCopy } = await import('../adapters/media/decoded-copy.ts')
  return withDecodedCopy(path, kind, (wavPath) => hear(wavPath).readings ?? SILENT)
}
