/** Samples of a test sound: one list a channel, as fractions of full scale. */
export type Channels = readonly (readonly number[] | Float64Array)[]

export interface WavOptions {
  readonly rateHz?: number
  readonly bits?: 8 | 16 | 24 | 32 | 64
  readonly isFloat?: boolean
  /** WAVE_FORMAT_EXTENSIBLE with this mask. */
  readonly channelMask?: number
  readonly validBits?: number
  readonly isBigEndian?: boolean
  /** Whole chunks to stand before `fmt `, between it and `data`, and behind `data`. */
  readonly first?: readonly Uint8Array[]
  readonly before?: readonly Uint8Array[]
  readonly after?: readonly Uint8Array[]
}

/** A well-formed WAV file of these samples. */
export function wavFile(channels: Channels, options: WavOptions = {}): Uint8Array {
  const { isBigEndian = false } = options
  const data = chunk('data', sampleBytes(channels, options), isBigEndian)
  return riff(
    isBigEndian ? 'RIFX' : 'RIFF',
    [
      ...(options.first ?? []),
      formatChunk(channels.length, options),
      ...(options.before ?? []),
      data,
      ...(options.after ?? []),
    ],
    isBigEndian,
  )
}

/** A RIFF form of chunks. */
export function riff(id: string, chunks: readonly Uint8Array[], isBigEndian = false): Uint8Array {
  const body = join([ascii('WAVE'), ...chunks])
  return join([ascii(id), number(body.length, 4, isBigEndian), body])
}

/** A chunk with its pad byte. */
export function chunk(
  id: string,
  body: Uint8Array,
  isBigEndian = false,
  sizeBytes = body.length,
): Uint8Array {
  const pad = new Uint8Array(body.length % 2)
  return join([ascii(id), number(sizeBytes, 4, isBigEndian), body, pad])
}

/** An ID3v2.4 tag with a body of this many bytes. */
export function id3Tag(bodyBytes: number): Uint8Array {
  const size = [21, 14, 7, 0].map((shift) => (bodyBytes >> shift) & 0x7f)
  return join([ascii('ID3'), Uint8Array.of(4, 0, 0, ...size), new Uint8Array(bodyBytes)])
}

export function formatChunk(channelCount: number, options: WavOptions = {}): Uint8Array {
  const { rateHz = 48000, bits = 16, isFloat = false, channelMask, isBigEndian = false } = options
  const frameBytes = (channelCount * bits) / 8
  const n = (value: number, bytes: number) => number(value, bytes, isBigEndian)
  const isExtensible = channelMask !== undefined || options.validBits !== undefined
  const tag = isFloat ? 3 : 1
  const plain = [
    n(isExtensible ? 0xfffe : tag, 2),
    n(channelCount, 2),
    n(rateHz, 4),
    n(rateHz * frameBytes, 4),
    n(frameBytes, 2),
    n(bits, 2),
  ]
  const subFormat = [n(tag, 2), Uint8Array.from([0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71])]
  const extension = [n(22, 2), n(options.validBits ?? bits, 2), n(channelMask ?? 0, 4), ...subFormat]
  return chunk('fmt ', join(isExtensible ? [...plain, ...extension] : plain), isBigEndian)
}

/** Interleaved samples as bytes. Whole numbers are rounded and held within their range. */
export function sampleBytes(channels: Channels, options: WavOptions = {}): Uint8Array {
  const { bits = 16, isFloat = false, isBigEndian = false } = options
  const frames = channels[0]?.length ?? 0
  const width = bits / 8
  const stride = channels.length * width
  const bytes = new Uint8Array(frames * stride)
  const view = new DataView(bytes.buffer)
  channels.forEach((channel, place) => {
    const samples = Float64Array.from(channel)
    for (let frame = 0, at = place * width; frame < frames; frame++, at += stride) {
      const value = samples[frame] ?? 0
      if (!isFloat) putWhole(bytes, at, value, bits, isBigEndian)
      else if (bits === 64) view.setFloat64(at, value, !isBigEndian)
      else view.setFloat32(at, value, !isBigEndian)
    }
  })
  return bytes
}

function putWhole(bytes: Uint8Array, at: number, value: number, bits: number, isBigEndian: boolean): void {
  const full = 2 ** (bits - 1)
  const whole = Math.min(full - 1, Math.max(-full, Math.round(value * full)))
  let rest = bits === 8 ? whole + 128 : whole
  const width = bits / 8
  for (let byte = 0; byte < width; byte++, rest >>= 8)
    bytes[at + (isBigEndian ? width - 1 - byte : byte)] = rest
}

export function number(value: number, bytes: number, isBigEndian = false): Uint8Array {
  const out = new Uint8Array(bytes)
  let rest = BigInt(Math.trunc(value))
  for (let index = 0; index < bytes; index++, rest >>= 8n)
    out[isBigEndian ? bytes - 1 - index : index] = Number(rest & 255n)
  return out
}

export function ascii(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0))
}

export function join(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}
