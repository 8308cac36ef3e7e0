import fc from 'fast-check'
import { nameKey, nameFault } from '../../app/cards/card-name.ts'
import type { GeometryBoard } from '../../app/cards/choose-geometry.ts'
import type { CardFile } from '../../app/model/plan.ts'

const letters = fc.constantFrom(...'abcdefghijABCDEFGHIJ0123456789_-~ .éßÄıſ日本𝄞')
const name = fc
  .oneof(
    {
      weight: 3,
      arbitrary: fc.constantFrom(
        'HUM.WAV',
        'hum01.wav',
        'Swing High 1.wav',
        'clash (2).wav',
        'a.b.c',
        'long name that goes on.wav',
      ),
    },
    { weight: 4, arbitrary: fc.string({ unit: letters, minLength: 1, maxLength: 24 }) },
    { weight: 1, arbitrary: fc.string({ unit: letters, minLength: 120, maxLength: 200 }) },
  )
  .filter((text) => nameFault(text) === null)

/** Few, so that files meet in them; some need numeric tails. */
const folder = fc.constantFrom('01-ember', '02-TIDE', 'FONTS', 'a longer folder', 'Ünï日本', 'x'.repeat(120))

const sizeBytes = fc.oneof(
  fc.constantFrom(0, 1, 511, 512, 513, 4095, 4096, 4097, 32_768, 32_769),
  fc.nat({ max: 300_000 }),
)

/** Files of a random library, without two names that clash. */
export const randomFiles: fc.Arbitrary<CardFile[]> = fc
  .array(
    fc.record({
      folders: fc.array(folder, { maxLength: 4 }),
      name,
      sizeBytes,
      seed: fc.nat({ max: 255 }),
    }),
    {
      maxLength: 40,
      size: 'max',
    },
  )
  .map((drafts) => {
    const kinds = new Map<string, string>()
    return drafts.flatMap(({ folders, name: last, sizeBytes: bytes, seed }): CardFile[] => {
      const parts = [...folders, last]
      const keys = parts.map((_, index) =>
        parts
          .slice(0, index + 1)
          .map(nameKey)
          .join('/'),
      )
      const wanted = parts.map((part, index) => (index === parts.length - 1 ? 'file' : `folder ${part}`))
      if (keys.some((key, index) => (kinds.get(key) ?? wanted[index]) !== wanted[index])) return []
      if (kinds.has(keys.at(-1) ?? '')) return []
      keys.forEach((key, index) => kinds.set(key, wanted[index] ?? ''))
      const origin = { kind: 'sound', editionId: 'edition', path: last } as const
      return [
        { path: parts.join('/'), sizeBytes: bytes, sha256: seed.toString(16).padStart(64, '0'), origin },
      ]
    })
  })

/** A board's demand on the file system, with FAT16 and FAT32 at every cluster size. */
export const randomBoard: fc.Arbitrary<GeometryBoard> = fc.record({
  fileSystems: fc.constantFrom(['fat32'], ['fat16'], ['fat16', 'fat32'], ['fat32', 'fat16']) as fc.Arbitrary<
    GeometryBoard['fileSystems']
  >,
  largestCardBytes: fc.constant(null),
  clusterBytes: fc.constantFrom(512, 1024, 2048, 4096, 8192, 16_384, 32_768),
  partitionTable: fc.constant('mbr' as const),
  alignmentBytes: fc.constantFrom(512, 65_536, 1 << 20, 4 << 20, 16 << 20),
})

export const boardOf = (change: Partial<GeometryBoard> = {}): GeometryBoard => ({
  fileSystems: ['fat32'],
  largestCardBytes: null,
  clusterBytes: 4096,
  partitionTable: 'mbr',
  alignmentBytes: 4 << 20,
  ...change,
})
