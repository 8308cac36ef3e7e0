import type { AudioFacts } from '../../model/audio-facts.ts'
import type { ByteSource } from '../../ports/bytes.ts'
import { ByteWindow } from './byte-window.ts'
import { wavContainer } from './chunk-walk.ts'
import { readWav, type WavReading } from './read-wav.ts'
import { fourCharacters } from './whole-numbers.ts'

const ID3_HEADER_BYTES = 10
const HAS_FOOTER = 0x10

/**
 * Bytes of the ID3v2 tag that a file begins with; 0 where it begins with none. Source: id3.org, ID3
 * tag version 2.4.0, section 3.1: four bytes of seven bits each, without header and footer.
 */
export function tagBytesBefore(head: Uint8Array): number {
  if (head.length < ID3_HEADER_BYTES || String.fromCharCode(...head.subarray(0, 3)) !== 'ID3') return 0
  const bodyBytes = [6, 7, 8, 9].reduce((sum, at) => sum * 128 + ((head[at] ?? 0) & 0x7f), 0)
  const hasFooter = ((head[5] ?? 0) & HAS_FOOTER) !== 0
  return ID3_HEADER_BYTES + bodyBytes + (hasFooter ? ID3_HEADER_BYTES : 0)
}

/**
 * Reads a WAV, also one behind an ID3 tag, which some taggers put before it by mistake: players skip
 * it, a board that looks for the header at byte 0 does not: so its container is `other`. All offsets are
 * those of the file.
 * @param head first bytes of the source
 * @returns undefined where the file is no WAV
 */
export function openWav(source: ByteSource, head: Uint8Array): WavReading | undefined {
  const container = wavContainer(head)
  if (container !== undefined) return readWav(new ByteWindow(source, head), container)
  const tagBytes = tagBytesBefore(head)
  if (tagBytes === 0 || tagBytes >= source.sizeBytes) return undefined
  const behind = sourceBehind(source, tagBytes)
  const own = new Uint8Array(Math.min(4096, behind.sizeBytes))
  const ownHead = own.subarray(0, behind.readInto(own, 0))
  const wrapped = wavContainer(ownHead)
  if (wrapped === undefined || fourCharacters(ownHead, 8) !== 'WAVE') return undefined
  const { facts, layout } = readWav(new ByteWindow(behind, ownHead), wrapped)
  return {
    facts: factsBehind(facts, tagBytes),
    layout: layout === undefined ? undefined : { ...layout, dataAt: layout.dataAt + tagBytes },
  }
}

function sourceBehind(source: ByteSource, startsAt: number): ByteSource {
  return {
    sizeBytes: source.sizeBytes - startsAt,
    readInto: (target, at) => source.readInto(target, at + startsAt),
  }
}

function factsBehind(facts: AudioFacts, tagBytes: number): AudioFacts {
  const message = `An ID3 tag of ${tagBytes} bytes stands before the WAV; many readers look for its header at byte 0.`
  return {
    ...facts,
    // Its first bytes are no RIFF header, which is what a board looks for.
    container: 'other',
    chunks: facts.chunks.map((chunk) => ({ ...chunk, offset: chunk.offset + tagBytes })),
    defects: [
      { code: 'tag-before-header', offset: 0, message },
      ...facts.defects.map((defect) => ({ ...defect, offset: defect.offset + tagBytes })),
    ],
  }
}
