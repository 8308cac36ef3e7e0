import type { AudioFacts, Container, LoopFact } from '../../model/audio-facts.ts'
import { adpcmFrames } from './adpcm-frames.ts'
import type { ByteWindow } from './byte-window.ts'
import { walkChunks, type ChunkWalk, type FoundChunk } from './chunk-walk.ts'
import { DefectList } from './defect-list.ts'
import { readFormatChunk, type FormatChunk } from './format-chunk.ts'
import { sampleLayout, type SampleLayout } from './sample-layout.ts'
import { checkLoops, readSamplerLoops } from './sampler-chunk.ts'
import { readTextTags } from './text-tags.ts'

export interface WavReading {
  readonly facts: AudioFacts
  /** Where the samples lie; undefined where the coding is not PCM or float, or the format is broken. */
  readonly layout: SampleLayout | undefined
}

const HEADER_BYTES_MAX = 4096

/**
 * Everything a WAV file says of itself, held against its bytes. Never throws for what is in the file.
 * `frames` counts what is really there. The chunks kept are all of the file's, in their order.
 */
export function readWav(window: ByteWindow, container: Container): WavReading {
  const defects = new DefectList()
  const walk = walkChunks(window, container, defects)
  const named = (id: string) => walk.chunks.filter((chunk) => chunk.id === id)
  const formatChunk = named('fmt ')[0]
  const dataChunk = named('data')[0]
  const format = formatChunk === undefined ? undefined : readFormat(window, walk, formatChunk, defects)
  checkOrder(walk, window.sizeBytes, defects)
  const layout =
    format === undefined || dataChunk === undefined
      ? undefined
      : sampleLayout(format, dataChunk.bodyAt, dataChunk.bodyBytes, container === 'rifx')
  if (layout !== undefined && dataChunk !== undefined) checkWholeFrames(layout, dataChunk, defects)
  const frames = layout?.frames ?? framesOfOthers(format, dataChunk)
  const loops = readLoops(window, walk, frames, defects)
  const sampleRateHz = format?.sampleRateHz || null
  return {
    layout,
    facts: {
      container,
      coding: format?.coding ?? 'other',
      formatTag: format?.formatTag ?? null,
      channels: format?.channels || null,
      sampleRateHz,
      bitDepth: format?.bitDepth || null,
      validBits: format?.validBits || null,
      frames,
      seconds: frames === null || sampleRateHz === null ? null : frames / sampleRateHz,
      chunks: walk.chunks.map(({ id, offset, sizeBytes }) => ({ id, offset, sizeBytes })),
      loops,
      tags: readTextTags(window, walk.chunks, walk.numbers),
      defects: defects.found,
    },
  }
}

function readFormat(
  window: ByteWindow,
  walk: ChunkWalk,
  chunk: FoundChunk,
  defects: DefectList,
): FormatChunk {
  const body = window.bytes(chunk.bodyAt, Math.min(chunk.bodyBytes, HEADER_BYTES_MAX)).slice()
  return readFormatChunk(body, chunk.offset, walk.numbers, defects)
}

function framesOfOthers(format: FormatChunk | undefined, data: FoundChunk | undefined): number | null {
  if (format === undefined || data === undefined) return null
  if (format.coding === 'adpcm') return adpcmFrames(format, data.bodyBytes)
  const isByteCoding = format.coding === 'alaw' || format.coding === 'mulaw'
  return isByteCoding && format.channels > 0 ? Math.floor(data.bodyBytes / format.channels) : null
}

function checkOrder(walk: ChunkWalk, fileBytes: number, defects: DefectList): void {
  const formats = walk.chunks.filter(({ id }) => id === 'fmt ')
  const data = walk.chunks.filter(({ id }) => id === 'data')
  const [format, otherFormat] = formats
  const [sound, otherSound] = data
  if (format === undefined)
    defects.add('no-fmt', 12, 'The file has no "fmt " chunk, so nothing tells how its samples are coded.')
  if (sound === undefined)
    defects.add('no-data', fileBytes, 'The file has no "data" chunk, so there is no sound in it.')
  if (otherFormat !== undefined)
    defects.add('fmt-repeated', otherFormat.offset, 'A second "fmt " chunk; the first one counts.')
  if (otherSound !== undefined)
    defects.add('data-repeated', otherSound.offset, 'A second "data" chunk; the first one counts.')
  if (format !== undefined && sound !== undefined && format.offset > sound.offset) {
    defects.add(
      'fmt-after-data',
      format.offset,
      'The "fmt " chunk stands after the sound; many players need it before.',
    )
  }
}

function checkWholeFrames(layout: SampleLayout, data: FoundChunk, defects: DefectList): void {
  const rest = data.bodyBytes % layout.frameBytes
  if (rest === 0) return
  defects.add(
    'partial-frame',
    data.bodyAt + data.bodyBytes - rest,
    `The sound ends with ${rest} bytes of an unfinished frame.`,
  )
}

function readLoops(
  window: ByteWindow,
  walk: ChunkWalk,
  frames: number | null,
  defects: DefectList,
): LoopFact[] {
  return walk.chunks
    .filter(({ id }) => id === 'smpl')
    .flatMap((chunk) => {
      const body = window.bytes(chunk.bodyAt, Math.min(chunk.bodyBytes, HEADER_BYTES_MAX)).slice()
      const loops = readSamplerLoops(body, chunk.offset, chunk.bodyBytes, walk.numbers, defects)
      if (frames !== null) checkLoops(loops, chunk.offset, frames, defects)
      return loops
    })
}
