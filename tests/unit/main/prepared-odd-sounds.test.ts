import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { openWorkshop } from '../../../main/workshop.ts'
import { noise, sine } from '../../support/signals.ts'
import { writeFiles } from '../../support/temporary-folder.ts'
import { wavFile } from '../../support/wav-bytes.ts'

const control = { onProgress: () => undefined, cancel: new AbortController().signal }
const RATE = 44_100
const folder = mkdtempSync(join(tmpdir(), 'cardwright-odd-'))
let report: ResponseOf<'prepare'>
let again: ResponseOf<'prepare'>

/** Sounds as nobody would make them, in a font with a hum that asks for a gain. */
const ODD: Readonly<Record<string, Uint8Array>> = {
  'clash-01.wav': wavFile([new Float64Array(RATE)]),
  'clash-02.wav': wavFile([Float64Array.of(0.5)]),
  'clash-03.wav': wavFile(
    Array.from({ length: 8 }, (_, seed) => noise(seed + 1, 192_000, 0.2)),
    { rateHz: 192_000, bits: 24 },
  ),
  'clash-04.wav': wavFile([new Float64Array(RATE).fill(0.4)]),
  'clash-05.wav': wavFile([
    sine(RATE, 300, RATE, 40).map((sample) => Math.max(-1, Math.min(32_767 / 32_768, sample))),
  ]),
  'clash-06.wav': Buffer.from('RIFF, but no more than that'),
  'clash-07.wav': wavFile([new Float64Array(0)]),
}

beforeAll(async () => {
  const burst = noise(9, RATE, 0.2).map((sample, frame) => sample * Math.exp(-frame / 8000))
  writeFiles(folder, {
    'fonts/Odd/hum.wav': wavFile([sine(RATE, 100, RATE, 0.05)], { rateHz: RATE }),
    ...Object.fromEntries(
      ['ignite-01', 'retract-01', 'swing-01'].map((name) => [
        `fonts/Odd/${name}.wav`,
        wavFile([burst], { rateHz: RATE }),
      ]),
    ),
    ...Object.fromEntries(Object.entries(ODD).map(([name, bytes]) => [`fonts/Odd/${name}`, bytes])),
  })
  const { core, close } = await openWorkshop({ folder: join(folder, 'workshop') })
  await core.scan({ paths: [join(folder, 'fonts')] }, control)
  const editionIds = (await core['fonts:list']({}, control)).fonts.map(({ id }) => id)
  report = await core.prepare({ boardId: 'bench-44', editionIds }, control)
  again = await core.prepare({ boardId: 'bench-44', editionIds }, control)
  await close()
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const rowOf = (path: string) => report.fonts[0]!.sounds.find((sound) => sound.path === path)!

test.each(['clash-01.wav', 'clash-02.wav', 'clash-03.wav', 'clash-04.wav', 'clash-05.wav'])(
  '%s is prepared with the others',
  (path) => {
    const { state, after, before } = rowOf(path)
    expect(state).toBe('made')
    expect(after).toMatchObject({ sampleRateHz: RATE, bitDepth: 16, channels: 1 })
    expect(after!.seconds).toBeCloseTo(before.seconds!, 2)
    if (after!.truePeakDbtp !== null) expect(after!.truePeakDbtp).toBeLessThanOrEqual(-1)
    if (after!.dcOffset !== null) expect(Math.abs(after!.dcOffset)).toBeLessThan(0.005)
  },
)

test('what holds no sound is left as it is, and told', () => {
  for (const path of ['clash-06.wav', 'clash-07.wav']) {
    expect(rowOf(path)).toMatchObject({ state: 'unchanged', after: null })
    expect(report.fonts[0]!.stillWrong.map((finding) => finding.path)).toContain(path)
  }
  expect(report.fonts[0]!.verdictAfter.word).toBe('blocked')
})

test('the hum lands where it should all the same, and a second run does nothing', () => {
  expect(report.fonts[0]!.humAfterLufs).toBeCloseTo(-22, 1)
  expect(report.counts.failed).toBe(0)
  expect(again.counts).toMatchObject({ made: 0, failed: 0, planned: 0 })
})
