import { existsSync, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

export interface LibraryFile {
  readonly path: string
  readonly sizeBytes: number
  readonly isLong: boolean
}

interface Recipe {
  readonly name: string
  readonly seconds: number
  readonly rateHz: number
  readonly bits: 16 | 24
  readonly channels: 1 | 2
  readonly isLong: boolean
}

/**
 * A library like an installer's, synthesised: of 408 files 36 are long tracks and make four fifths of
 * the bytes; most are 44.1 kHz, 16 bit, one channel, some 24 bit, 48 kHz, two channels. `scale` 1 is
 * 1.0 GB; smaller ones shorten the files. Found again by later runs.
 */
export function soundLibrary(folder: string, scale: number): LibraryFile[] {
  const home = join(folder, `library-${scale}`)
  mkdirSync(home, { recursive: true })
  return recipes(scale).map((recipe, index) => written(home, recipe, index + 1))
}

/** Many sounds of a tenth of a second to one second and a half, as fonts mostly have. */
export function smallSounds(folder: string, count: number): LibraryFile[] {
  const home = join(folder, `small-${count}`)
  mkdirSync(home, { recursive: true })
  const random = seeded(7)
  return Array.from({ length: count }, (_, index) => {
    const sub = join(home, `font-${String(Math.floor(index / 100)).padStart(3, '0')}`)
    if (index % 100 === 0) mkdirSync(sub, { recursive: true })
    const recipe: Recipe = {
      name: `s${index}.wav`,
      seconds: 0.1 + random() * 0.5,
      rateHz: index % 7 === 0 ? 48000 : 22050,
      bits: 16,
      channels: 1,
      isLong: false,
    }
    return written(sub, recipe, index + 1)
  })
}

function recipes(scale: number): Recipe[] {
  const random = seeded(1)
  return Array.from({ length: 408 }, (_, index) => {
    const isLong = index < 36
    const kind = index % 12
    return {
      name: `${isLong ? 'track' : 'sound'}-${String(index).padStart(3, '0')}.wav`,
      seconds: (isLong ? 150 + random() * 130 : 0.3 + random() ** 2 * 15) * scale,
      rateHz: kind === 5 ? 48000 : 44100,
      bits: kind === 3 ? 24 : 16,
      channels: kind === 7 ? 2 : 1,
      isLong,
    }
  })
}

function written(folder: string, recipe: Recipe, seed: number): LibraryFile {
  const path = join(folder, recipe.name)
  const frames = Math.max(1, Math.round(recipe.seconds * recipe.rateHz))
  const dataBytes = (frames * recipe.channels * recipe.bits) / 8
  const sizeBytes = 44 + dataBytes + (dataBytes % 2)
  if (!existsSync(path)) writeFileSync(path, wavBytes(recipe, frames, dataBytes, seed))
  return { path, sizeBytes, isLong: recipe.isLong }
}

function wavBytes(recipe: Recipe, frames: number, dataBytes: number, seed: number): Buffer {
  const { rateHz, bits, channels } = recipe
  const bytes = Buffer.alloc(44 + dataBytes + (dataBytes % 2))
  bytes.write('RIFF', 0)
  bytes.writeUInt32LE(bytes.length - 8, 4)
  bytes.write('WAVEfmt ', 8)
  bytes.writeUInt32LE(16, 16)
  bytes.writeUInt16LE(1, 20)
  bytes.writeUInt16LE(channels, 22)
  bytes.writeUInt32LE(rateHz, 24)
  bytes.writeUInt32LE((rateHz * channels * bits) / 8, 28)
  bytes.writeUInt16LE((channels * bits) / 8, 32)
  bytes.writeUInt16LE(bits, 34)
  bytes.write('data', 36)
  bytes.writeUInt32LE(dataBytes, 40)
  const full = 2 ** (bits - 1) - 1
  const next = voice(seed, rateHz)
  const width = bits / 8
  for (let frame = 0, at = 44; frame < frames; frame++) {
    for (let channel = 0; channel < channels; channel++, at += width) {
      bytes.writeIntLE(Math.round(next() * full), at, width)
    }
  }
  return bytes
}

/** A hum of five partials that swells, with struck notes and a little noise: cheap to make, not flat. */
function voice(seed: number, rateHz: number): () => number {
  const random = seeded(seed)
  const table = Float64Array.from({ length: 4096 }, (_, index) => Math.sin((2 * Math.PI * index) / 4096))
  const partials = [1, 2.01, 2.99, 5.2, 9.1].map((ratio, index) => ({
    step: ((50 + random() * 90) * ratio * 4096) / rateHz,
    gain: 0.22 / (index + 1),
    place: random() * 4096,
  }))
  let noise = seed * 2654435761
  let strike = 0
  let note = 0
  let noteStep = 0
  let untilStrike = 0
  return () => {
    noise = (Math.imul(noise, 1664525) + 1013904223) | 0
    if (untilStrike-- <= 0) {
      strike = 0.2 + random() * 0.4
      noteStep = ((200 + random() * 2400) * 4096) / rateHz
      untilStrike = rateHz * (0.15 + random() * 0.8)
    }
    strike *= 1 - 6 / rateHz
    note = (note + noteStep) % 4096
    let value = strike * (table[note | 0] ?? 0) + noise * 2e-11
    for (const partial of partials) {
      partial.place = (partial.place + partial.step) % 4096
      value += partial.gain * (table[partial.place | 0] ?? 0)
    }
    return Math.max(-1, Math.min(1, value))
  }
}

function seeded(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}
