import { noise, seededRandom, sine } from './signals.ts'
import { ascii, chunk, formatChunk, id3Tag, join, number, riff, sampleBytes, wavFile } from './wav-bytes.ts'

/** Small files of every kind that the reader knows, to be mutated. */
export function wavCorpus(): Uint8Array[] {
  const tone = [sine(8000, 300, 500)]
  const loops = join([
    ...Array.from({ length: 7 }, () => number(0, 4)),
    number(1, 4),
    number(0, 4),
    number(0, 8),
    number(9, 4),
    number(400, 4),
    number(0, 8),
  ])
  const info = chunk(
    'LIST',
    join([ascii('INFO'), chunk('INAM', ascii('a name\0')), chunk('ICMT', ascii('odd'))]),
  )
  const coded = (tag: number, frameBytes: number, bits: number) => {
    const format = join([
      number(tag, 2),
      number(1, 2),
      number(8000, 4),
      number(8000, 4),
      number(frameBytes, 2),
      number(bits, 2),
      number(2, 2),
      number(505, 2),
    ])
    return riff('RIFF', [
      chunk('fmt ', format),
      chunk('fact', number(400, 4)),
      chunk('data', noiseBytes(600)),
    ])
  }
  const ds64 = chunk(
    'ds64',
    join([number(1100, 8), number(1000, 8), number(500, 8), number(1, 4), ascii('JUNK'), number(7, 8)]),
  )
  return [
    ...([8, 16, 24, 32] as const).map((bits) => wavFile(tone, { bits })),
    ...([32, 64] as const).map((bits) => wavFile(tone, { bits, isFloat: true })),
    wavFile([...tone, ...tone], { bits: 24, channelMask: 3 }),
    wavFile(
      Array.from({ length: 6 }, () => [0.1, -0.2, 0.3]),
      { channelMask: 0x3f },
    ),
    wavFile(tone, { bits: 24, isBigEndian: true }),
    wavFile(tone, { bits: 32, isFloat: true, isBigEndian: true }),
    wavFile(tone, {
      after: [chunk('smpl', loops), chunk('cue ', number(0, 4)), chunk('id3 ', ascii('ID3..'))],
    }),
    wavFile(tone, { before: [info, chunk('bext', noiseBytes(700)), chunk('JUNK', noiseBytes(9))] }),
    riff('RF64', [ds64, formatChunk(1), chunk('data', sampleBytes(tone), false, 0xffffffff)]),
    riff('BW64', [ds64, formatChunk(2), chunk('data', sampleBytes(tone), false, 0xffffffff)]),
    coded(6, 1, 8),
    coded(7, 1, 8),
    coded(2, 256, 4),
    coded(17, 256, 4),
    coded(0x55, 1, 0),
    wavFile([[]]),
    join([id3Tag(30), wavFile(tone)]),
    join([id3Tag(5000), wavFile(tone, { bits: 24 })]),
  ]
}

function noiseBytes(length: number): Uint8Array {
  return Uint8Array.from(noise(length, length, 127), (value) => value & 255)
}

const ODD_NUMBERS = [
  0, 1, 2, 3, 7, 8, 15, 16, 17, 18, 40, 0x7fff, 0x8000, 0xfffe, 0xffff, 0x7fffffff, 0x80000000, 0xfffffff0,
  0xfffffffe, 0xffffffff,
]
const IDS = [
  'RIFF',
  'RIFX',
  'RF64',
  'BW64',
  'WAVE',
  'fmt ',
  'data',
  'smpl',
  'ds64',
  'LIST',
  'fact',
  'JUNK',
  'id3 ',
]

/** One file of the corpus, changed in one to five ways; the same seed gives the same bytes. */
export function mutatedWav(corpus: readonly Uint8Array[], seed: number): Uint8Array {
  const random = seededRandom(seed)
  const pick = <T>(values: readonly T[]): T => values[Math.floor(random() * values.length)] as T
  const below = (limit: number) => Math.floor(random() * Math.max(1, limit))
  let bytes: Uint8Array = pick(corpus).slice()
  for (let change = 0; change <= random() * random() * 5; change++) {
    const head = Math.min(bytes.length, pick([12, 64, 200, bytes.length]))
    const at = below(head)
    const ways: (() => Uint8Array)[] = [
      () => patch(bytes, at, Uint8Array.of((bytes[at] ?? 0) ^ (1 << below(8)))),
      () => patch(bytes, at & ~1, number(pick(ODD_NUMBERS), 4, random() < 0.2)),
      () => patch(bytes, at & ~1, number(pick(ODD_NUMBERS) & 0xffff, 2)),
      () => patch(bytes, at & ~3, ascii(pick(IDS))),
      () => patch(bytes, pick([4, 16, 22, 24, 28, 32, 34, 40]), number(pick(ODD_NUMBERS), pick([2, 4]))),
      () => bytes.slice(0, below(bytes.length)),
      () =>
        join([
          bytes.slice(0, at),
          chunk(pick(IDS), noiseBytes(below(40)), false, pick([...ODD_NUMBERS, 4])),
          bytes.slice(at),
        ]),
      () => join([bytes.slice(0, at), pick(corpus).slice(below(200))]),
      () => join([bytes, noiseBytes(below(600))]),
      () =>
        patch(
          bytes,
          below(bytes.length),
          pick(
            [
              [0, 0, 0xc0, 0x7f],
              [0, 0, 0x80, 0xff],
              [0xff, 0xff, 0x7f, 0x7f],
            ].map((raw) => Uint8Array.from(raw)),
          ),
        ),
    ]
    bytes = pick(ways)()
  }
  return bytes
}

function patch(bytes: Uint8Array, at: number, over: Uint8Array): Uint8Array {
  const copy = bytes.slice()
  copy.set(over.subarray(0, Math.max(0, copy.length - at)), Math.min(at, copy.length))
  return copy
}
