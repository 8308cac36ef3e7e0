import type { GeometryBoard } from '../../app/cards/choose-geometry.ts'
import { CLUSTER_SIZES } from '../../app/cards/geometry.ts'
import { madeUpBytes, type FileOnCard } from './card-on-disk.ts'
import { boardOf } from './random-cards.ts'

/** One card to make and to hold against the references. */
export interface CardCase {
  readonly name: string
  readonly board: GeometryBoard
  readonly sounds: readonly FileOnCard[]
}

type Sounds = (clusterBytes: number) => readonly FileOnCard[]

const named = (names: readonly string[], folder = '01-font'): readonly FileOnCard[] =>
  names.map((name, index) => ({ path: `${folder}/${name}`, bytes: madeUpBytes(700 + index * 37, index) }))

/** What may lie on a card: names of every kind, folders of every size, files around whole clusters. */
const CONTENTS: Readonly<Record<string, Sounds>> = {
  '8.3 names': () => named(['HUM.WAV', 'CLASH01.WAV', 'SWING01.WAV', 'NOEXT', 'A.B']),
  'long names': () =>
    named([
      'hum.wav',
      'clash one.wav',
      'Swing High 01.wav',
      'a name that takes several entries.wav',
      'x.y.z.wav',
    ]),
  'thirteen letters and around': () =>
    named(['twelveletter', 'thirteenlette', 'fourteenletter', 'a'.repeat(26), 'a'.repeat(27)]),
  'unicode names': () => named(['Glöckchen.wav', 'été.wav', 'звук.wav', '音.wav', '🎵 tone.wav']),
  '255 units': () => named([`${'n'.repeat(251)}.wav`, `${'n'.repeat(250)}m.wav`, `${'é'.repeat(120)}.wav`]),
  aliases: () => named(Array.from({ length: 120 }, (_, n) => `clash sound ${n}.wav`).concat('CLASHS~1.WAV')),
  'depth of eight': () => [
    ...named(['hum.wav'], 'a/b/c/d/e/f/g/h'),
    ...named(['clash.wav'], 'a/b/c/d'),
    ...named(['swing.wav'], 'second'),
  ],
  'empty files': () => [
    { path: '01-font/empty.wav', bytes: new Uint8Array(0) },
    { path: '01-font/hum.wav', bytes: madeUpBytes(5000, 1) },
    { path: '02-font/nothing.txt', bytes: new Uint8Array(0) },
  ],
  'whole clusters and a byte more or less': (clusterBytes) =>
    [1, 2, 3].flatMap((n) =>
      [-1, 0, 1].map((more) => ({
        path: `0${n}-font/n ${more}.wav`,
        bytes: madeUpBytes(n * clusterBytes + more, n * 10 + more),
      })),
    ),
  'one folder of 512': () => named(Array.from({ length: 512 }, (_, n) => `ring-${n}.wav`)),
  'one folder of 2,000': () =>
    Array.from({ length: 2000 }, (_, n) => ({ path: `01-font/ring ${n}.wav`, bytes: madeUpBytes(24, n) })),
  'a folder of one': () => named(['hum.wav']),
}

const KINDS = ['fat16', 'fat32'] as const

/** Every kind of FAT at every cluster size, with every kind of content somewhere. */
export const CARD_CASES: readonly CardCase[] = [
  ...KINDS.flatMap((kind) =>
    CLUSTER_SIZES.flatMap((clusterBytes, size) =>
      Object.entries(CONTENTS).flatMap(([content, sounds], index) =>
        // Each content at several sizes; all pairs would take minutes.
        (index + size) % (kind === 'fat16' ? 2 : 3) === 0
          ? [caseOf(kind, clusterBytes, content, sounds)]
          : [],
      ),
    ),
  ),
]

function caseOf(kind: 'fat16' | 'fat32', clusterBytes: number, content: string, sounds: Sounds): CardCase {
  return {
    name: `${kind === 'fat16' ? 'FAT16' : 'FAT32'}, clusters of ${clusterBytes} bytes, ${content}`,
    board: boardOf({ fileSystems: [kind], clusterBytes }),
    sounds: sounds(clusterBytes),
  }
}
