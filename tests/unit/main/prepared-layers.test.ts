import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openWorkshop } from '../../../main/workshop.ts'
import { noise, sine } from '../../support/signals.ts'
import { temporaryFolder, writeFiles } from '../../support/temporary-folder.ts'
import { wavFile } from '../../support/wav-bytes.ts'

const control = { onProgress: () => undefined, cancel: new AbortController().signal }
const RATE = 48_000

test('layers that play together stay equally long and at their distance, through rate, seam and gain', async () => {
  const folder = temporaryFolder()
  const burst = noise(9, RATE, 0.1).map((sample, frame) => sample * Math.exp(-frame / 8000))
  // An odd length that closes badly: both layers must be cut alike.
  const frames = 2 * RATE + 137
  const low = sine(RATE, 90.3, frames, 0.5)
  const high = sine(RATE, 410.7, frames, 0.12)
  writeFiles(folder, {
    'fonts/Pair/hum.wav': wavFile([sine(RATE, 100, 2 * RATE, 0.03)], { rateHz: RATE }),
    ...Object.fromEntries(
      ['ignite-01', 'retract-01', 'clash-01', 'swing-01'].map((name) => [
        `fonts/Pair/${name}.wav`,
        wavFile([burst], { rateHz: RATE }),
      ]),
    ),
    'fonts/Pair/swing-low-01.wav': wavFile([low], { rateHz: RATE }),
    'fonts/Pair/swing-high-01.wav': wavFile([high], { rateHz: RATE }),
  })
  const { core, close } = await openWorkshop({ folder: join(folder, 'workshop') })
  try {
    await core.scan({ paths: [join(folder, 'fonts')] }, control)
    const editionIds = (await core['fonts:list']({}, control)).fonts.map(({ id }) => id)
    const report = await core.prepare({ boardId: 'bench-44', editionIds }, control)
    const rowOf = (path: string) => report.fonts[0]!.sounds.find((sound) => sound.path === path)!
    const [first, second] = [rowOf('swing-low-01.wav'), rowOf('swing-high-01.wav')]
    expect(first.steps.map(({ step }) => step)).toContain('repair-seam')
    expect(second.steps).toEqual(
      first.steps.map((step) => ({
        ...step,
        reason: expect.any(String) as string,
        rule: expect.any(String) as string,
      })),
    )
    expect(first.after!.seconds).toBe(second.after!.seconds)
    const distance = (state: 'before' | 'after') => first[state]!.levelLufs! - second[state]!.levelLufs!
    expect(Math.abs(distance('after') - distance('before'))).toBeLessThan(0.1)
    for (const { after } of [first, second]) {
      expect(after!.truePeakDbtp).toBeLessThanOrEqual(-1)
      expect(after!.jumpRatio).toBeLessThan(1.5)
    }
    expect(report.fonts[0]!.verdictAfter.word).toBe('ready')
  } finally {
    await close()
  }
})
