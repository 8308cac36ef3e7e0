import { describe, expect, test } from 'vitest'
import { openWav } from '../../../../app/audio/wav/open-wav.ts'
import { factsOf, inspected } from '../../../support/inspected.ts'
import { sine } from '../../../support/signals.ts'
import {
  ascii,
  chunk,
  formatChunk,
  id3Tag,
  join,
  number,
  riff,
  sampleBytes,
  wavFile,
} from '../../../support/wav-bytes.ts'

const second = [sine(8000, 440, 800)]
const data16 = () => chunk('data', sampleBytes(second))
const codes = (bytes: Uint8Array) => factsOf(bytes).defects.map(({ code, offset }) => `${code}@${offset}`)

function patched(bytes: Uint8Array, at: number, patch: Uint8Array): Uint8Array {
  const copy = bytes.slice()
  copy.set(patch, at)
  return copy
}

describe('a well-formed file has its facts and no defect', () => {
  const cases = [
    {
      name: '8-bit PCM',
      file: wavFile(second, { bits: 8, rateHz: 8000 }),
      want: { coding: 'pcm', bitDepth: 8 },
    },
    {
      name: '24-bit PCM',
      file: wavFile(second, { bits: 24, rateHz: 8000 }),
      want: { coding: 'pcm', bitDepth: 24 },
    },
    {
      name: '32-bit PCM',
      file: wavFile(second, { bits: 32, rateHz: 8000 }),
      want: { coding: 'pcm', bitDepth: 32 },
    },
    {
      name: 'floats',
      file: wavFile(second, { bits: 32, isFloat: true, rateHz: 8000 }),
      want: { coding: 'float', formatTag: 3 },
    },
    {
      name: 'doubles',
      file: wavFile(second, { bits: 64, isFloat: true, rateHz: 8000 }),
      want: { coding: 'float', bitDepth: 64 },
    },
    {
      name: 'RIFX',
      file: wavFile(second, { isBigEndian: true, rateHz: 8000 }),
      want: { container: 'rifx', coding: 'pcm' },
    },
    {
      name: 'an extensible format with fewer valid bits',
      file: wavFile(second, { bits: 24, validBits: 20, channelMask: 4, rateHz: 8000 }),
      want: { formatTag: 0xfffe, coding: 'pcm', bitDepth: 24, validBits: 20 },
    },
    {
      name: 'chunks before and behind the sound, odd ones padded',
      file: wavFile(second, {
        rateHz: 8000,
        before: [chunk('JUNK', new Uint8Array(7))],
        after: [chunk('id3 ', ascii('ID3'))],
      }),
      want: { container: 'riff' },
    },
  ]
  test.each(cases)('$name', ({ file, want }) => {
    expect(factsOf(file)).toMatchObject({
      ...want,
      channels: 1,
      sampleRateHz: 8000,
      frames: 800,
      seconds: 0.1,
      defects: [],
    })
  })

  test.each(['RF64', 'BW64'])('%s with its sizes in ds64', (id) => {
    const data = chunk('data', sampleBytes(second), false, 0xffffffff)
    const body = [number(0, 8), number(1600, 8), number(800, 8), number(0, 4)]
    const file = riff(id, [chunk('ds64', join(body)), formatChunk(1, { rateHz: 8000 }), data])
    const sized = patched(patched(file, 4, number(0xffffffff, 4)), 20, number(file.length - 8, 8))
    expect(factsOf(sized)).toMatchObject({ container: id.toLowerCase(), frames: 800, defects: [] })
  })

  test.each([30, 60_000])(
    'a WAV behind an ID3 tag of %i bytes is read, and the tag is a defect',
    (bodyBytes) => {
      const wav = wavFile(second, { rateHz: 8000 })
      const { kind, inspection } = inspected(join([id3Tag(bodyBytes), wav]))
      const plain = inspected(wav).inspection
      expect(kind).toBe('wav')
      expect(inspection).toMatchObject({
        measures: plain.measures,
        sampleHash: plain.sampleHash,
        problem: null,
      })
      expect(inspection.facts).toMatchObject({
        container: 'other',
        frames: 800,
        chunks: [
          { id: 'fmt ', offset: 10 + bodyBytes + 12 },
          { id: 'data', offset: 10 + bodyBytes + 36 },
        ],
        defects: [{ code: 'tag-before-header', offset: 0 }],
      })
    },
  )

  test('defects of a WAV behind a tag are told where they lie in the file', () => {
    const cut = wavFile(second, { rateHz: 8000 }).slice(0, 1000)
    const codes = factsOf(join([id3Tag(30), cut])).defects.map(({ code, offset }) => [code, offset])
    expect(codes).toContainEqual(['chunk-past-end', 40 + 36])
  })

  test('a tag before anything else, or that claims more than the file, makes no WAV of it', () => {
    expect(inspected(join([id3Tag(30), ascii('OggS and so on')])).inspection.facts).toBeNull()
    expect(inspected(id3Tag(200).slice(0, 60)).kind).toBe('mp3')
    expect(inspected(join([id3Tag(30), ascii('RIFF1234AVI ')])).inspection.facts).toBeNull()
  })

  test('a file of 5 GB is understood from a few kilobytes of it', () => {
    const dataBytes = 5_000_000_000
    const ds64 = chunk(
      'ds64',
      join([number(dataBytes + 72, 8), number(dataBytes, 8), number(0, 8), number(0, 4)]),
    )
    const sized = riff('RF64', [ds64, formatChunk(1, { rateHz: 8000 })])
    const head = join([patched(sized, 4, number(0xffffffff, 4)), ascii('data'), number(0xffffffff, 4)])
    let readBytes = 0
    const source = {
      sizeBytes: head.length + dataBytes,
      readInto(target: Uint8Array, at: number) {
        const length = Math.min(target.length, this.sizeBytes - at)
        readBytes += length
        target.fill(0, 0, length)
        if (at < head.length) target.set(head.subarray(at, at + length))
        return length
      },
    }
    const first = new Uint8Array(4096)
    source.readInto(first, 0)
    expect(openWav(source, first)?.facts).toMatchObject({ frames: dataBytes / 2, defects: [] })
    expect(readBytes).toBeLessThan(64 << 10)
  })

  test('the chunks are listed in order with the offset of each header', () => {
    const { chunks } = factsOf(wavFile(second, { first: [chunk('JUNK', new Uint8Array(7))] }))
    expect(chunks).toEqual([
      { id: 'JUNK', offset: 12, sizeBytes: 7 },
      { id: 'fmt ', offset: 28, sizeBytes: 16 },
      { id: 'data', offset: 52, sizeBytes: 1600 },
    ])
  })

  test('text of LIST/INFO and bext is read, UTF-8 or Latin-1', () => {
    const info = chunk(
      'LIST',
      join([
        ascii('INFO'),
        chunk('INAM', new TextEncoder().encode('Glühen\0')),
        chunk('IART', Uint8Array.from([0xc4, 0x62, 0])),
      ]),
    )
    const bext = chunk('bext', join([ascii('take one'), new Uint8Array(602 - 8)]))
    const { tags } = factsOf(wavFile(second, { before: [info, bext] }))
    expect(tags).toEqual({ INAM: 'Glühen', IART: 'Äb', bextDescription: 'take one' })
  })

  test('loop points of smpl stand as stored, the end inclusive', () => {
    const { loops, defects } = factsOf(wavFile(second, { after: [samplerChunk([[100, 799]])] }))
    expect({ loops, defects }).toEqual({ loops: [{ start: 100, end: 799 }], defects: [] })
  })
})

function samplerChunk(loops: readonly (readonly [number, number])[], announced = loops.length): Uint8Array {
  const head = [...Array.from({ length: 7 }, () => number(0, 4)), number(announced, 4), number(0, 4)]
  const body = loops.flatMap(([start, end]) => [number(0, 8), number(start, 4), number(end, 4), number(0, 8)])
  return chunk('smpl', join([...head, ...body]))
}

describe('a fault is told by its name and the byte where it shows, and the sound is still counted', () => {
  const good = wavFile(second, { rateHz: 8000 })
  const cases = [
    {
      name: 'the file is cut inside the sound',
      file: good.subarray(0, 444),
      frames: 200,
      want: ['chunk-past-end@36', 'riff-size-long@4'],
    },
    {
      name: 'the size of the whole is too small',
      file: patched(good, 4, number(100, 4)),
      frames: 800,
      want: ['riff-size-short@4', 'bytes-after-end@108'],
    },
    {
      name: 'bytes lie behind the end',
      file: join([good, ascii('xyz')]),
      frames: 800,
      want: ['trailing-bytes@1644', 'riff-size-short@4', 'bytes-after-end@1644'],
    },
    {
      name: 'the size of the sound is all ones',
      file: patched(good, 40, number(0xffffffff, 4)),
      frames: 800,
      want: ['data-size-unknown@40'],
    },
    {
      name: 'a recorder never wrote its sizes',
      file: patched(patched(good, 40, number(0, 4)), 4, number(0, 4)),
      frames: 800,
      want: ['data-size-unknown@40', 'riff-size-unknown@4'],
    },
    {
      name: 'fmt stands behind data',
      file: riff('RIFF', [data16(), formatChunk(1)]),
      frames: 800,
      want: ['fmt-after-data@1620'],
    },
    {
      name: 'there are two fmt',
      file: riff('RIFF', [formatChunk(1), formatChunk(2), data16()]),
      frames: 800,
      want: ['fmt-repeated@36'],
    },
    {
      name: 'there are two data',
      file: riff('RIFF', [formatChunk(1), data16(), data16()]),
      frames: 800,
      want: ['data-repeated@1644'],
    },
    { name: 'there is no data', file: riff('RIFF', [formatChunk(1)]), frames: null, want: ['no-data@36'] },
    { name: 'there is no fmt', file: riff('RIFF', [data16()]), frames: null, want: ['no-fmt@12'] },
    {
      name: 'the block align is wrong',
      file: patched(good, 32, number(3, 2)),
      frames: 800,
      want: ['wrong-block-align@32', 'wrong-byte-rate@28'],
    },
    {
      name: 'the byte rate is wrong',
      file: patched(good, 28, number(1, 4)),
      frames: 800,
      want: ['wrong-byte-rate@28'],
    },
    {
      name: 'there are no channels',
      file: patched(good, 22, number(0, 2)),
      frames: null,
      want: ['no-channels@22'],
    },
    {
      name: 'samples have 0 bits',
      file: patched(good, 34, number(0, 2)),
      frames: null,
      want: ['no-bit-depth@34'],
    },
    {
      name: 'a pad byte is missing between chunks',
      file: riff('RIFF', [formatChunk(1), chunk('JUNK', new Uint8Array(7)).subarray(0, 15), data16()]),
      frames: 800,
      want: ['pad-missing@51'],
    },
    {
      name: 'the last pad byte is missing',
      file: wavFile([sine(8000, 440, 801)], { bits: 8 }).subarray(0, 845),
      frames: 801,
      want: ['pad-missing@845'],
    },
    {
      name: 'a chunk has no name',
      file: riff('RIFF', [formatChunk(1), data16(), new Uint8Array(8)]),
      frames: 800,
      want: ['bad-chunk-id@1644'],
    },
    {
      name: 'a frame is unfinished',
      file: riff('RIFF', [formatChunk(2), chunk('data', new Uint8Array(402))]),
      frames: 100,
      want: ['partial-frame@444'],
    },
    {
      name: 'the form is not WAVE',
      file: patched(good, 8, ascii('AVI ')),
      frames: 800,
      want: ['not-wave@8'],
    },
    {
      name: 'smpl is cut',
      file: wavFile(second, { before: [chunk('smpl', new Uint8Array(20))] }),
      frames: 800,
      want: ['smpl-short@36'],
    },
    {
      name: 'smpl announces more loops than it holds',
      file: wavFile(second, { after: [samplerChunk([[0, 9]], 4000000)] }),
      frames: 800,
      want: ['smpl-loops-missing@1680'],
    },
    {
      name: 'a loop ends behind the sound',
      file: wavFile(second, { after: [samplerChunk([[0, 900]])] }),
      frames: 800,
      want: ['loop-out-of-range@1696'],
    },
    {
      name: 'a loop runs backwards',
      file: wavFile(second, { after: [samplerChunk([[90, 10]])] }),
      frames: 800,
      want: ['loop-out-of-range@1696'],
    },
    {
      name: 'a loop end is one late',
      file: wavFile(second, { after: [samplerChunk([[0, 800]])] }),
      frames: 800,
      want: ['loop-end-one-late@1700'],
    },
    {
      name: 'RF64 without ds64',
      file: patched(good, 0, ascii('RF64')),
      frames: 800,
      want: ['ds64-missing@12'],
    },
    {
      name: 'only the first four bytes are there',
      file: good.subarray(0, 4),
      frames: null,
      want: ['header-cut@4', 'no-fmt@12', 'no-data@4'],
    },
  ]
  test.each(cases)('$name', ({ file, frames, want }) => {
    expect(codes(file)).toEqual(want)
    expect(factsOf(file).frames).toBe(frames)
  })
})

describe('odd samples are read as what they are', () => {
  test('24 valid bits at the top of 32 measure like 24 bits', () => {
    const narrow = inspected(wavFile(second, { bits: 24 }))
    const wide = join([...(second[0] ?? [])].map((value) => number(Math.round(value * 2 ** 23) * 256, 4)))
    const file = inspected(riff('RIFF', [formatChunk(1, { bits: 32, validBits: 24 }), chunk('data', wide)]))
    expect(file.inspection.measures).toEqual(narrow.inspection.measures)
  })

  test('a plain 24-bit format in frames of four bytes has its sound in the lower three', () => {
    const narrow = inspected(wavFile(second, { bits: 24 }))
    const wide = join(
      [...(second[0] ?? [])].map((value) => number(Math.round(value * 2 ** 23) & 0xffffff, 4)),
    )
    const rated = patched(formatChunk(1, { bits: 24 }), 16, number(192000, 4))
    const format = patched(rated, 20, number(4, 2))
    const file = inspected(riff('RIFF', [format, chunk('data', wide)]))
    expect(file.inspection.measures).toEqual(narrow.inspection.measures)
  })

  test('RIFX measures like RIFF', () => {
    const little = inspected(wavFile(second, { bits: 24 })).inspection
    const big = inspected(wavFile(second, { bits: 24, isBigEndian: true })).inspection
    expect(big.measures).toEqual(little.measures)
    expect(big.sampleHash).toBe(little.sampleHash)
  })

  test('20 channels give facts, and no measures with the reason', () => {
    const { facts, measures } = inspected(wavFile(Array.from({ length: 20 }, () => [0.1, 0.2]))).inspection
    expect(facts).toMatchObject({ channels: 20, frames: 2, defects: [] })
    expect(measures?.reasons.dcOffset).toBe('too-many-channels')
  })

  test('floats that are no numbers are told and measured as silence', () => {
    const { facts, measures } = inspected(
      wavFile([[NaN, 0.5, Infinity, -0.5, 1e30]], { bits: 32, isFloat: true }),
    ).inspection
    expect(facts?.defects.map(({ code }) => code)).toEqual(['wild-samples'])
    expect(measures?.levels.samplePeakDbfs).toBeCloseTo(-6.0206, 4)
  })
})

describe('what is no WAV is told as what it is', () => {
  const cases = [
    { name: 'an empty file', bytes: new Uint8Array(0), code: 'sound/empty', says: 'empty' },
    {
      name: 'a text',
      bytes: ascii('ffconcat version 1.0\nfile other.wav\n'),
      code: 'sound/not-recognised',
      says: 'no kind of sound',
    },
    {
      name: 'an MP3',
      bytes: Uint8Array.from([0xff, 0xfb, 0x90, 0x64, 0, 0]),
      code: 'sound/needs-decoder',
      says: 'an MP3',
    },
    { name: 'a FLAC', bytes: ascii('fLaC....'), code: 'sound/needs-decoder', says: 'a FLAC' },
    { name: 'an Ogg', bytes: ascii('OggS....'), code: 'sound/needs-decoder', says: 'an Ogg' },
    { name: 'an AIFF', bytes: ascii('FORM....AIFF'), code: 'sound/needs-decoder', says: 'an AIFF' },
    { name: 'an MPEG-4', bytes: ascii('....ftypM4A '), code: 'sound/needs-decoder', says: 'an MPEG-4' },
  ]
  test.each(cases)('$name', ({ bytes, code, says }) => {
    const { problem, facts, sha256 } = inspected(bytes).inspection
    expect(problem?.code).toBe(code)
    expect(problem?.message).toContain(says)
    expect(facts).toBeNull()
    expect(sha256).toMatch(/^[0-9a-f]{64}$/)
  })
})
