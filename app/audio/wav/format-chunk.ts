import type { Coding } from '../../model/audio-facts.ts'
import type { DefectList } from './defect-list.ts'
import type { WholeNumbers } from './whole-numbers.ts'

/** The `fmt ` chunk, as written. */
export interface FormatChunk {
  readonly formatTag: number
  readonly coding: Coding
  readonly channels: number
  readonly sampleRateHz: number
  readonly bitDepth: number
  readonly validBits: number
  readonly blockAlign: number
  readonly byteRate: number
  /** Speaker positions of WAVE_FORMAT_EXTENSIBLE; 0 where none are told. */
  readonly channelMask: number
  readonly isExtensible: boolean
  readonly samplesPerBlock: number
}

const EXTENSIBLE = 0xfffe
/** The last eight bytes of every KSDATAFORMAT_SUBTYPE that stands for a plain format tag. */
const SUBTYPE_TAIL = '800000aa00389b71'
/** Those of the ambisonic B-format sub-types, which carry the tag in the same place (from memory). */
const AMBISONIC_TAIL = '8644c8c1ca000000'

const CODINGS: Readonly<Record<number, Coding>> = {
  0x0001: 'pcm',
  0x0003: 'float',
  0x0006: 'alaw',
  0x0007: 'mulaw',
  0x0002: 'adpcm',
  0x0011: 'adpcm',
}

/**
 * Reads `fmt `. Never throws: what is missing reads as 0 and is told as a defect.
 * Sources: Microsoft/IBM 1991 on `fmt `; Microsoft, "Extensible Wave-Format Descriptors"; RFC 2361
 * on the tags; the layouts of IMA and MS ADPCM by Microsoft's "New Multimedia Data Types" (1994).
 * @param body the chunk's body, at most 4096 bytes of it
 * @param at offset of the chunk's 8-byte header in the file
 */
export function readFormatChunk(
  body: Uint8Array,
  at: number,
  numbers: WholeNumbers,
  defects: DefectList,
): FormatChunk {
  const bodyAt = at + 8
  if (body.length < 16) {
    defects.add('fmt-short', at, `The "fmt " chunk has ${body.length} bytes and needs at least 16.`)
  }
  const formatTag = numbers.u16(body, 0)
  const channels = numbers.u16(body, 2)
  const sampleRateHz = numbers.u32(body, 4)
  const byteRate = numbers.u32(body, 8)
  const blockAlign = numbers.u16(body, 12)
  const bitDepth = body.length >= 16 ? numbers.u16(body, 14) : 0
  const extraBytes = body.length >= 18 ? numbers.u16(body, 16) : 0
  if (body.length >= 18 && 18 + extraBytes > body.length) {
    defects.add(
      'fmt-extra-past-end',
      bodyAt + 16,
      `"fmt " announces ${extraBytes} more bytes and has ${body.length - 18}.`,
    )
  }
  const isExtensible = formatTag === EXTENSIBLE
  let tag = formatTag
  let validBits = bitDepth
  let channelMask = 0
  if (isExtensible) {
    if (body.length < 40) {
      defects.add(
        'fmt-extension-short',
        bodyAt + 16,
        'An extensible format needs a 22-byte extension, which is missing or cut.',
      )
      tag = 0
    } else {
      validBits = numbers.u16(body, 18) || bitDepth
      channelMask = numbers.u32(body, 20)
      tag = subFormatTag(body, numbers)
    }
  }
  const coding = isExtensible && tag === 0 ? 'other' : (CODINGS[tag] ?? 'other')
  if (validBits > bitDepth) {
    defects.add(
      'valid-bits-too-many',
      bodyAt + 18,
      `${validBits} valid bits do not fit in ${bitDepth}-bit samples.`,
    )
    validBits = bitDepth
  }
  if (channels === 0) defects.add('no-channels', bodyAt + 2, 'The file says it has 0 channels.')
  if (sampleRateHz === 0)
    defects.add('no-sample-rate', bodyAt + 4, 'The file says it has a sample rate of 0 Hz.')
  if (coding === 'pcm' || coding === 'float') {
    checkPlainLayout({ channels, sampleRateHz, byteRate, blockAlign, bitDepth, coding }, bodyAt, defects)
  } else if (blockAlign === 0 && body.length >= 16) {
    defects.add('no-block-align', bodyAt + 12, 'The file says that its blocks have 0 bytes.')
  }
  const samplesPerBlock = coding === 'adpcm' && body.length >= 20 ? numbers.u16(body, 18) : 0
  return {
    formatTag,
    coding,
    channels,
    sampleRateHz,
    bitDepth,
    validBits,
    blockAlign,
    byteRate,
    channelMask,
    isExtensible,
    samplesPerBlock,
  }
}

function subFormatTag(body: Uint8Array, numbers: WholeNumbers): number {
  let tail = ''
  for (let index = 32; index < 40; index++) tail += (body[index] ?? 0).toString(16).padStart(2, '0')
  const known = tail === SUBTYPE_TAIL || tail === AMBISONIC_TAIL
  // In RIFX the first part of the identifier may be turned round; the tag is found either way.
  return known ? numbers.u16(body, 24) || numbers.u16(body, 26) : 0
}

interface PlainLayout {
  readonly channels: number
  readonly sampleRateHz: number
  readonly byteRate: number
  readonly blockAlign: number
  readonly bitDepth: number
  readonly coding: Coding
}

function checkPlainLayout(layout: PlainLayout, bodyAt: number, defects: DefectList): void {
  const { channels, sampleRateHz, byteRate, blockAlign, bitDepth, coding } = layout
  if (bitDepth === 0) {
    defects.add('no-bit-depth', bodyAt + 14, 'The file says that its samples have 0 bits.')
    return
  }
  if (bitDepth > 64 || (coding === 'float' && bitDepth !== 32 && bitDepth !== 64)) {
    defects.add('odd-bit-depth', bodyAt + 14, `Samples of ${bitDepth} bits are no ${coding} format.`)
    return
  }
  const expected = channels * Math.ceil(bitDepth / 8)
  if (channels > 0 && blockAlign !== expected) {
    defects.add(
      'wrong-block-align',
      bodyAt + 12,
      `A frame is said to have ${blockAlign} bytes; ${channels} x ${bitDepth} bits make ${expected}.`,
    )
  }
  if (sampleRateHz > 0 && byteRate !== sampleRateHz * blockAlign) {
    defects.add(
      'wrong-byte-rate',
      bodyAt + 8,
      `The byte rate says ${byteRate} and should say ${sampleRateHz * blockAlign}.`,
    )
  }
}
