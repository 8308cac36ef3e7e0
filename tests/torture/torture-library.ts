import { join } from 'node:path'
import { handMadeZip } from '../support/hand-made-zip.ts'
import { noise, sine } from '../support/signals.ts'
import { writeFiles } from '../support/temporary-folder.ts'
import { ascii, join as joinBytes, number, sampleBytes, wavFile } from '../support/wav-bytes.ts'

/** Fonts that the board takes as they are, and one that must be prepared for it. */
export const READY_FONTS = ['Ash Lantern', 'Cinder Path'] as const
export const UNREADY_FONT = 'Bell Quay'

const READY = { rateHz: 32_000, bits: 16 } as const

/** Writes a small library: two folders of fonts and one archive. */
export function writeTortureLibrary(folder: string): void {
  const ready = (seed: number, seconds: number) =>
    wavFile([noise(seed, Math.round(seconds * READY.rateHz), 0.12)], READY)
  const unready = (seed: number, seconds: number) =>
    wavFile(
      [noise(seed, Math.round(seconds * 44_100), 0.1), noise(seed + 500, Math.round(seconds * 44_100), 0.1)],
      {
        rateHz: 44_100,
        bits: 24,
      },
    )
  writeFiles(join(folder, 'Ash Lantern 1.0'), {
    'hum.wav': ready(1, 2),
    'ignite-01.wav': ready(2, 0.6),
    'retract-01.wav': ready(3, 0.6),
    'clash-01.wav': ready(4, 0.4),
    'clash-02.wav': ready(5, 0.4),
    'swing-01.wav': ready(6, 0.5),
    'swing-02.wav': ready(7, 0.5),
    'read me.txt': 'Thank you.\n',
  })
  writeFiles(join(folder, 'Bell Quay'), {
    'hum.wav': unready(21, 1.5),
    'ignite-01.wav': unready(22, 0.5),
    'retract-01.wav': unready(23, 0.5),
    'clash-01.wav': unready(24, 0.3),
    'clash-02.wav': unready(25, 0.3),
    'swing-01.wav': unready(26, 0.4),
    // Needs ffmpeg to be read: another kind of sound under the name of a WAV.
    'music.wav': aiffFile(sine(44_100, 440, 22_050, 0.2), 44_100),
  })
  const packed = {
    hum: ready(41, 1.5),
    'ignite-01': ready(42, 0.5),
    'retract-01': ready(43, 0.5),
    'clash-01': ready(44, 0.3),
  }
  const entries = Object.entries(packed).map(([name, data]) => ({
    name: `Cinder Path/${name}.wav`,
    data,
    stored: true,
  }))
  writeFiles(folder, { 'Cinder Path.zip': handMadeZip(entries) })
}

/** One channel of 16 bits. Source: Audio Interchange File Format 1.3 (Apple, 1989). */
function aiffFile(samples: Float64Array, rateHz: number): Uint8Array {
  const exponent = Math.floor(Math.log2(rateHz))
  const mantissa = BigInt(Math.round((rateHz / 2 ** exponent) * 2 ** 31)) << 32n
  const extended = new DataView(new ArrayBuffer(10))
  extended.setUint16(0, 16_383 + exponent)
  extended.setBigUint64(2, mantissa)
  const common = joinBytes([
    number(1, 2, true),
    number(samples.length, 4, true),
    number(16, 2, true),
    new Uint8Array(extended.buffer),
  ])
  const sound = joinBytes([new Uint8Array(8), sampleBytes([samples], { bits: 16, isBigEndian: true })])
  const chunks = joinBytes([
    ...[ascii('COMM'), number(common.length, 4, true), common],
    ...[ascii('SSND'), number(sound.length, 4, true), sound],
  ])
  return joinBytes([ascii('FORM'), number(4 + chunks.length, 4, true), ascii('AIFF'), chunks])
}
