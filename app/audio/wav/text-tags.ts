import type { ByteWindow } from './byte-window.ts'
import type { FoundChunk } from './chunk-walk.ts'
import { fourCharacters, type WholeNumbers } from './whole-numbers.ts'

const MOST_TAGS = 64
const LONGEST_TAG_BYTES = 512

/**
 * Text of the `LIST` chunk of type `INFO` (keys `INAM`, `IART` ...) and the main fields of `bext`.
 * Sources: Microsoft/IBM 1991, "INFO List Chunk"; EBU Tech 3285, section 2.3.
 */
export function readTextTags(
  window: ByteWindow,
  chunks: readonly FoundChunk[],
  numbers: WholeNumbers,
): Record<string, string> {
  const tags: Record<string, string> = Object.create(null) as Record<string, string>
  for (const chunk of chunks) {
    if (chunk.id === 'LIST') readInfoList(window, chunk, numbers, tags)
    if (chunk.id === 'bext') readBroadcast(window, chunk, tags)
  }
  return { ...tags }
}

function readInfoList(
  window: ByteWindow,
  chunk: FoundChunk,
  numbers: WholeNumbers,
  tags: Record<string, string>,
): void {
  if (fourCharacters(window.bytes(chunk.bodyAt, 4), 0) !== 'INFO') return
  const end = chunk.bodyAt + chunk.bodyBytes
  let at = chunk.bodyAt + 4
  let count = 0
  while (at + 8 <= end && count++ < MOST_TAGS) {
    const header = window.bytes(at, 8)
    const id = fourCharacters(header, 0)
    const size = Math.min(numbers.u32(header, 4), end - at - 8)
    const value = text(window.bytes(at + 8, Math.min(size, LONGEST_TAG_BYTES)))
    if (value !== '' && !id.includes('?')) tags[id] ??= value
    at += 8 + size + (size % 2)
  }
}

function readBroadcast(window: ByteWindow, chunk: FoundChunk, tags: Record<string, string>): void {
  const field = (at: number, length: number) =>
    at >= chunk.bodyBytes ? '' : text(window.bytes(chunk.bodyAt + at, Math.min(length, chunk.bodyBytes - at)))
  const fields: Readonly<Record<string, string>> = {
    bextDescription: field(0, 256),
    bextOriginator: field(256, 32),
    bextOriginatorReference: field(288, 32),
    bextOriginationDate: field(320, 10),
    bextOriginationTime: field(330, 8),
  }
  for (const [key, value] of Object.entries(fields)) if (value !== '') tags[key] ??= value
}

/** Bytes up to the first 0 as UTF-8 where they are that, else as Latin-1. */
function text(bytes: Uint8Array): string {
  const end = bytes.indexOf(0)
  const kept = end < 0 ? bytes : bytes.subarray(0, end)
  let latin = ''
  let escaped = ''
  for (const code of kept) {
    latin += code < 0x20 ? ' ' : String.fromCharCode(code)
    escaped += `%${code.toString(16).padStart(2, '0')}`
  }
  try {
    return decodeURIComponent(escaped)
      .replaceAll(/\p{Cc}/gu, ' ')
      .trim()
  } catch {
    return latin.trim()
  }
}
