import type { Hasher, NewHasher } from '../ports/bytes.ts'
import { ENCODING_BYTES, type SampleLayout } from './wav/sample-layout.ts'

/**
 * SHA-256 over rate, channels and sample values, so that the same sound in another wrapper is known.
 * Whole numbers are left-justified to 32 bits and hashed in the fewest bytes (2, 3 or 4) that hold
 * all of them: the same values give the same bytes whatever the width of their container, and the
 * usual 16-bit sound is hashed as it lies. Floats count by their own values, as 64-bit ones.
 */
export class SampleHash {
  readonly #wide: number
  readonly #isFloat: boolean
  /** Hashes by bytes a sample, narrowest first; one too narrow for a sample is dropped for good. */
  #candidates: { bytes: number; hasher: Hasher }[]
  #scratch = new Uint8Array(0)

  constructor(layout: SampleLayout, newHasher: NewHasher) {
    this.#isFloat = layout.isFloat
    this.#wide = ENCODING_BYTES[layout.encoding]
    const widths = layout.isFloat ? [8] : [2, 3, 4].filter((bytes) => bytes <= Math.max(2, this.#wide))
    this.#candidates = widths.map((bytes) => {
      const hasher = newHasher()
      const kind = layout.isFloat ? 'float' : 'int'
      hasher.update(ascii(`samples 1 ${layout.sampleRateHz} ${layout.channels} ${kind} ${bytes * 8}\n`))
      return { bytes, hasher }
    })
  }

  /** @param bytes samples in the kernel's encoding, whole ones */
  add(bytes: Uint8Array): void {
    if (this.#isFloat || this.#wide === 1) {
      this.#candidates[0]?.hasher.update(this.#isFloat ? this.#asDoubles(bytes) : this.#asSixteenBits(bytes))
      return
    }
    const needed =
      this.#candidates.length === 1
        ? this.#wide
        : bytesNeeded(bytes, this.#wide, this.#candidates[0]?.bytes ?? 2)
    this.#candidates = this.#candidates.filter((candidate) => candidate.bytes >= needed)
    for (const candidate of this.#candidates) {
      candidate.hasher.update(candidate.bytes === this.#wide ? bytes : this.#narrowed(bytes, candidate.bytes))
    }
  }

  digestHex(): string {
    return this.#candidates[0]?.hasher.digestHex() ?? ''
  }

  #room(length: number): Uint8Array {
    if (this.#scratch.length < length) this.#scratch = new Uint8Array(length)
    return this.#scratch.subarray(0, length)
  }

  #asSixteenBits(bytes: Uint8Array): Uint8Array {
    const wide = this.#room(bytes.length * 2)
    for (let index = 0; index < bytes.length; index++) {
      wide[index * 2] = 0
      wide[index * 2 + 1] = (bytes[index] ?? 0) ^ 0x80
    }
    return wide
  }

  #narrowed(bytes: Uint8Array, width: number): Uint8Array {
    const samples = bytes.length / this.#wide
    const narrow = this.#room(samples * width)
    const dropped = this.#wide - width
    for (let sample = 0; sample < samples; sample++) {
      for (let byte = 0; byte < width; byte++) {
        narrow[sample * width + byte] = bytes[sample * this.#wide + dropped + byte] ?? 0
      }
    }
    return narrow
  }

  /** Every not-a-number becomes the same one, and minus zero becomes zero. */
  #asDoubles(bytes: Uint8Array): Uint8Array {
    const count = bytes.length / this.#wide
    const doubles = this.#room(count * 8)
    const from = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    const to = new DataView(doubles.buffer, doubles.byteOffset, doubles.byteLength)
    for (let index = 0; index < count; index++) {
      const value = this.#wide === 4 ? from.getFloat32(index * 4, true) : from.getFloat64(index * 8, true)
      to.setFloat64(index * 8, Number.isNaN(value) ? Number.NaN : value + 0, true)
    }
    return doubles
  }
}

/** The fewest bytes, no less than `least`, that hold every sample: lower bytes of 0 carry nothing. */
function bytesNeeded(bytes: Uint8Array, wide: number, least: number): number {
  let needed = least
  for (let at = 0; at < bytes.length && needed < wide; at += wide) {
    while (needed < wide && bytes[at + wide - needed - 1] !== 0) needed++
    // A lower byte still may be set where the one above it is 0.
    for (let byte = 0; byte < wide - needed; byte++) if (bytes[at + byte] !== 0) needed = wide - byte
  }
  return needed
}

function ascii(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0))
}
