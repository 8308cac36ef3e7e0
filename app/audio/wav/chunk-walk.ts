import type { Container } from '../../model/audio-facts.ts'
import type { ByteWindow } from './byte-window.ts'
import type { DefectList } from './defect-list.ts'
import {
  bigEndian,
  fourCharacters,
  isChunkId,
  littleEndian,
  u64,
  type WholeNumbers,
} from './whole-numbers.ts'

/** A chunk as found. `bodyBytes` is what really lies in the file, whatever the size field says. */
export interface FoundChunk {
  readonly id: string
  readonly offset: number
  readonly sizeBytes: number
  readonly bodyAt: number
  readonly bodyBytes: number
}

export interface ChunkWalk {
  readonly container: Container
  readonly numbers: WholeNumbers
  readonly chunks: readonly FoundChunk[]
}

/** More chunks than this are no sound file; the walk stops and says so. */
const MOST_CHUNKS = 4096
const UNKNOWN_SIZE = 0xffffffff
const CONTAINERS: Readonly<Record<string, Container>> = {
  RIFF: 'riff',
  RIFX: 'rifx',
  RF64: 'rf64',
  BW64: 'bw64',
}

/** Which WAV container the first bytes announce; undefined where they announce none. */
export function wavContainer(head: Uint8Array): Container | undefined {
  return head.length < 4 ? undefined : CONTAINERS[fourCharacters(head, 0)]
}

/**
 * Walks the chunks of a WAV file. No size field is trusted: each is held against the file's end, and
 * the walk always moves forward, so it ends. What does not fit goes to `defects`.
 * Sources: Microsoft/IBM, "Multimedia Programming Interface and Data Specifications 1.0" (1991), on
 * RIFF; EBU Tech 3306 and ITU-R BS.2088 on RF64, BW64 and `ds64`.
 */
export function walkChunks(window: ByteWindow, container: Container, defects: DefectList): ChunkWalk {
  const numbers = container === 'rifx' ? bigEndian : littleEndian
  const fileBytes = window.sizeBytes
  const head = window.bytes(0, 12).slice()
  const chunks: FoundChunk[] = []
  if (fileBytes < 12) {
    defects.add('header-cut', fileBytes, 'The file ends inside its 12-byte header.')
    return { container, numbers, chunks }
  }
  if (fourCharacters(head, 8) !== 'WAVE') {
    defects.add('not-wave', 8, `The form type is "${fourCharacters(head, 8)}" and should be "WAVE".`)
  }
  const is64 = container === 'rf64' || container === 'bw64'
  const wide = is64 ? readDs64(window, numbers, defects) : undefined
  let at = 12
  while (at < fileBytes) {
    if (fileBytes - at < 8) {
      defects.add('trailing-bytes', at, `${fileBytes - at} bytes at the end are too few for a chunk.`)
      break
    }
    if (chunks.length === MOST_CHUNKS) {
      defects.add(
        'too-many-chunks',
        at,
        `The file has more than ${MOST_CHUNKS} chunks; the rest was not looked at.`,
      )
      break
    }
    const header = window.bytes(at, 8)
    const id = fourCharacters(header, 0)
    if (!isChunkId(header, 0)) {
      defects.add('bad-chunk-id', at, 'The bytes here are no chunk; what follows cannot be told apart.')
      break
    }
    let sizeBytes = numbers.u32(header, 4)
    const present = fileBytes - at - 8
    if (wide !== undefined && sizeBytes === UNKNOWN_SIZE) sizeBytes = wide.sizes.get(id) ?? sizeBytes
    const isOpenEnded = id === 'data' && isUnknownSize(window, numbers, sizeBytes, at, wide !== undefined)
    if (isOpenEnded) {
      defects.add(
        'data-size-unknown',
        at + 4,
        'The size of the sound was never written; it is taken to reach to the end of the file.',
      )
    } else if (sizeBytes > present) {
      defects.add(
        'chunk-past-end',
        at,
        `Chunk "${id}" claims ${sizeBytes} bytes and the file holds ${present} of them.`,
      )
    }
    const bodyBytes = isOpenEnded ? present : Math.min(sizeBytes, present)
    chunks.push({ id, offset: at, sizeBytes, bodyAt: at + 8, bodyBytes })
    at = afterChunk(window, at + 8 + bodyBytes, bodyBytes, defects)
  }
  checkRiffSize(fileBytes, wide?.riffBytes ?? numbers.u32(head, 4), chunks, defects)
  return { container, numbers, chunks }
}

/** A recorder that was cut off leaves 0 or all ones in the size of `data`, and sound behind it. */
function isUnknownSize(
  window: ByteWindow,
  numbers: WholeNumbers,
  size: number,
  at: number,
  hasDs64: boolean,
): boolean {
  if (size === UNKNOWN_SIZE) return !hasDs64
  if (size !== 0) return false
  const riffBytes = numbers.u32(window.bytes(4, 4), 0)
  if (riffBytes !== 0 && riffBytes !== UNKNOWN_SIZE) return false
  const next = window.bytes(at + 8, 8)
  return (
    next.length > 0 &&
    !(next.length === 8 && isChunkId(next, 0) && numbers.u32(next, 4) <= window.sizeBytes - at - 16)
  )
}

/** Steps over the pad byte of an odd chunk, or tells that it is missing. */
function afterChunk(window: ByteWindow, end: number, bodyBytes: number, defects: DefectList): number {
  if (bodyBytes % 2 === 0) return end
  if (end >= window.sizeBytes) {
    defects.add('pad-missing', end, 'The last chunk has an odd size and its pad byte is missing.')
    return end
  }
  const next = window.bytes(end, 5)
  if (next[0] === 0) return end + 1
  // Some writers leave the pad byte out between chunks: then a chunk id stands right here.
  if (isChunkId(next, 0) && !(next.length === 5 && isChunkId(next, 1) && !looksLikeChunk(window, end))) {
    defects.add('pad-missing', end, 'A chunk of odd size is not followed by its pad byte.')
    return end
  }
  defects.add('pad-not-zero', end, 'The pad byte after a chunk of odd size is not 0.')
  return end + 1
}

function looksLikeChunk(window: ByteWindow, at: number): boolean {
  const header = window.bytes(at, 8)
  return header.length === 8 && littleEndian.u32(header, 4) <= window.sizeBytes - at - 8
}

function checkRiffSize(
  fileBytes: number,
  riffBytes: number,
  chunks: readonly FoundChunk[],
  defects: DefectList,
): void {
  const end = riffBytes + 8
  if (riffBytes === 0 || riffBytes === UNKNOWN_SIZE) {
    defects.add(
      'riff-size-unknown',
      4,
      `The size of the whole file was never written (it says ${riffBytes}).`,
    )
  } else if (end > fileBytes) {
    const lastIsPadOnly = end === fileBytes + 1 && (chunks.at(-1)?.bodyBytes ?? 0) % 2 === 1
    if (!lastIsPadOnly)
      defects.add('riff-size-long', 4, `The header claims ${end} bytes and the file has ${fileBytes}.`)
  } else if (end < fileBytes) {
    const last = chunks.at(-1)
    // A writer may count the pad byte of the last chunk in or leave it out.
    const padOnly =
      last !== undefined &&
      last.sizeBytes % 2 === 1 &&
      end + 1 === fileBytes &&
      last.bodyAt + last.bodyBytes === end
    if (padOnly) return
    defects.add('riff-size-short', 4, `The header claims ${end} bytes and the file has ${fileBytes}.`)
    defects.add('bytes-after-end', end, `${fileBytes - end} bytes lie after the end that the header gives.`)
  }
}

interface WideSizes {
  readonly riffBytes: number
  readonly sizes: Map<string, number>
}

/** `ds64`: 64-bit sizes of the file, of `data`, and a table of others (EBU Tech 3306, section 3.2). */
function readDs64(window: ByteWindow, numbers: WholeNumbers, defects: DefectList): WideSizes | undefined {
  const header = window.bytes(12, 8)
  if (header.length < 8 || fourCharacters(header, 0) !== 'ds64') {
    defects.add('ds64-missing', 12, 'A 64-bit WAV must begin with its "ds64" chunk, and this one does not.')
    return undefined
  }
  const bodyBytes = Math.min(numbers.u32(header, 4), window.sizeBytes - 20)
  const body = window.bytes(20, Math.min(bodyBytes, 4096)).slice()
  // Some writers leave out the length of the table, which they do not have.
  if (body.length < 24) {
    defects.add('ds64-short', 12, `The "ds64" chunk has ${body.length} bytes and needs at least 28.`)
    return undefined
  }
  const sizes = new Map<string, number>([['data', u64(body, 8)]])
  const entries = Math.min(littleEndian.u32(body, 24), Math.floor((body.length - 28) / 12))
  for (let index = 0; index < entries; index++) {
    const id = fourCharacters(body, 28 + index * 12)
    if (id !== 'data') sizes.set(id, u64(body, 32 + index * 12))
  }
  return { riffBytes: u64(body, 0), sizes }
}
