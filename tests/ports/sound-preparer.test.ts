import { chmodSync, existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, onTestFinished, test, vi } from 'vitest'
import type { RecipeAction } from '../../app/model/recipe.ts'
import type { SoundAnswer, SoundGroup } from '../../app/model/preparation.ts'
import { ffmpegPath } from '../../main/adapters/media/ffmpeg-path.ts'
import { runFfmpeg } from '../../main/adapters/media/run-ffmpeg.ts'
import { openWorkerPreparer, type PreparerOptions } from '../../main/workers/worker-preparer.ts'
import { channelOf, makeFrom, nobodyCancels, type Made } from '../support/open-preparer.ts'
import { noise, sine } from '../support/signals.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { rmsDb, toneReading } from '../support/tone-analysis.ts'
import { chunk, wavFile } from '../support/wav-bytes.ts'

const header = { do: 'header', header: 'plain' } as const
const rate = (fromHz: number, toHz: number, isLoop = false): RecipeAction => ({
  do: 'sample-rate',
  fromHz,
  toHz,
  isLoop,
})
const depth = (bitDepth: number): RecipeAction => ({ do: 'bit-depth', bitDepth, dither: 'tpdf' })

/** Ended with the test. */
function openPreparer(options: PreparerOptions) {
  const preparer = openWorkerPreparer(options)
  onTestFinished(() => preparer.close())
  return preparer
}

async function make(wanted: Parameters<typeof makeFrom>[2]): Promise<readonly Made[]> {
  const folder = temporaryFolder()
  const made = await makeFrom(openPreparer({ scratchFolder: join(folder, 'scratch') }), folder, wanted)
  return made.map((each) => {
    if ('problem' in each) throw new Error(each.problem.what)
    return each
  })
}

/** Another program is ffmpeg, in this test. */
function useFfmpeg(program: string): void {
  const before = process.env.CARDWRIGHT_FFMPEG
  process.env.CARDWRIGHT_FFMPEG = program
  onTestFinished(() => {
    if (before === undefined) delete process.env.CARDWRIGHT_FFMPEG
    else process.env.CARDWRIGHT_FFMPEG = before
  })
}

/** Has the usual ffmpeg say something else of itself, in this test. */
function standIn(says: string, script = ''): void {
  const program = join(temporaryFolder(), 'ffmpeg')
  const answers = `case "$*" in *-version*) ${says}; exit 0;; esac`
  writeFileSync(program, `#!/bin/sh\n${script}\n${answers}\nexec "${ffmpegPath() ?? ''}" "$@"\n`)
  chmodSync(program, 0o755)
  useFfmpeg(program)
}

const atMinus1 = 10 ** (-1 / 20)
const tone = (hz: number, frequencyHz: number, seconds = 2) =>
  wavFile([sine(hz, frequencyHz, hz * seconds, atMinus1)], { rateHz: hz, bits: 32, isFloat: true })

describe('a change of rate', () => {
  test.each([96_000, 48_000, 22_050])('from %i to 44.1 kHz keeps a tone clean', async (fromHz) => {
    const bytes = tone(fromHz, 1000)
    const [at24, at16] = await make([
      { bytes, actions: [rate(fromHz, 44_100), depth(24), header] },
      { bytes, actions: [rate(fromHz, 44_100), depth(16), header] },
    ])
    const fine = toneReading(channelOf(at24!.bytes), 44_100, 1000)
    expect(fine.distortionDb).toBeLessThan(-100)
    expect(fine.levelDb).toBeCloseTo(-1, 3)
    expect(toneReading(channelOf(at16!.bytes), 44_100, 1000).distortionDb).toBeLessThan(-90)
    expect(channelOf(at16!.bytes).length).toBe(2 * 44_100)
  })

  test.each([
    { fromHz: 96_000, toHz: 44_100, aboveHz: 23_500, bits: 24 },
    { fromHz: 96_000, toHz: 44_100, aboveHz: 23_500, bits: 16 },
    { fromHz: 48_000, toHz: 44_100, aboveHz: 23_500, bits: 24 },
    { fromHz: 48_000, toHz: 44_100, aboveHz: 23_500, bits: 16 },
    { fromHz: 44_100, toHz: 32_000, aboveHz: 17_200, bits: 24 },
    { fromHz: 44_100, toHz: 32_000, aboveHz: 17_200, bits: 16 },
    { fromHz: 22_050, toHz: 44_100, aboveHz: null, bits: 24 },
    { fromHz: 22_050, toHz: 44_100, aboveHz: null, bits: 16 },
  ])(
    'from $fromHz to $toHz Hz at $bits bit passes up to 0.9 of half the rate within 0.1 dB, and nothing from above it',
    async ({ fromHz, toHz, aboveHz, bits }) => {
      const half = Math.min(fromHz, toHz) / 2
      const frequencies = [100, 0.5 * half, 0.75 * half, 0.9 * half]
      const actions = [rate(fromHz, toHz), depth(bits), header]
      const made = await make([
        ...frequencies.map((hz) => ({ bytes: tone(fromHz, hz), actions })),
        ...(aboveHz === null ? [] : [{ bytes: tone(fromHz, aboveHz), actions }]),
      ])
      frequencies.forEach((hz, index) => {
        const { levelDb } = toneReading(channelOf(made[index]!.bytes), toHz, hz)
        expect(Math.abs(levelDb + 1)).toBeLessThan(0.1)
      })
      if (aboveHz === null) return
      const folded = channelOf(made.at(-1)!.bytes).subarray(20_000, toHz)
      // At 16 bit the dither alone has -93 dB: there the tone is looked for where it would be folded to.
      const heard =
        bits === 16
          ? toneReading(folded, toHz, toHz - aboveHz).levelDb + 1
          : rmsDb(folded) - rmsDb(sine(toHz, 1000, toHz, atMinus1))
      expect(heard).toBeLessThan(bits === 16 ? -110 : -90)
    },
  )

  test('a sound gives the same bytes alone and beside others', async () => {
    const sounds = [1, 2, 3].map((seed) => ({
      bytes: wavFile([noise(seed, 30_011)], { rateHz: 48_000 }),
      actions: [rate(48_000, 32_000), depth(16), header],
    }))
    const together = await make(sounds)
    const [alone] = await make(sounds.slice(1, 2))
    expect(Buffer.compare(alone!.bytes, together[1]!.bytes)).toBe(0)
  })

  test('an ffmpeg that is handed bare samples and one that reads the WAV itself give the same bytes', async () => {
    const long = [noise(1, 40_001), noise(2, 40_001)]
    const list = chunk('LIST', new Uint8Array(77))
    const sounds = [
      { channels: long.slice(0, 1), rateHz: 48_000 },
      { channels: long.slice(0, 1), rateHz: 48_000, before: [list], after: [list] },
      { channels: long, rateHz: 48_000, bits: 24, channelMask: 3 },
      { channels: long.slice(0, 1), rateHz: 48_000, bits: 32, validBits: 24, channelMask: 4 },
      { channels: long, rateHz: 96_000, first: [list] },
      { channels: [noise(3, 1)], rateHz: 48_000 },
    ].map(({ channels, ...options }) => ({
      bytes: wavFile(channels, options as Parameters<typeof wavFile>[1]),
      actions: [rate(options.rateHz, 44_100), depth(24), header],
    }))
    const itself = await make(sounds)
    standIn('echo "ffmpeg version older"; echo "configuration: --enable-libsoxr"')
    const bare = await make(sounds)
    itself.forEach(({ bytes }, index) => {
      expect(Buffer.compare(bytes, bare[index]!.bytes), `sound ${index}`).toBe(0)
    })
  })

  test('loops keep their ratio and close as they did', async () => {
    // Whole turns in an odd number of frames, so that no common ratio of the rates fits.
    const frames = 48_001
    const loop = sine(frames, 1501, frames, 0.5)
    const bytes = wavFile([loop], { rateHz: 48_000, bits: 24 })
    const [turning, once] = await make([
      { bytes, actions: [rate(48_000, 44_100, true), depth(24), header] },
      { bytes, actions: [rate(48_000, 44_100), depth(24), header] },
    ])
    const samples = channelOf(turning!.bytes)
    expect(samples.length).toBe(Math.round((frames * 44_100) / 48_000))
    // Three turns hold two seams: as clean there as anywhere else.
    const turned = (each: Float64Array) => Float64Array.from([...each, ...each, ...each])
    expect(toneReading(turned(samples), samples.length, 1501).distortionDb).toBeLessThan(-100)
    const seam = turning!.sound.inspection.measures!.seam
    expect(seam.jumpRatio).toBeLessThan(1.1)
    expect(seam.dipDb).toBeGreaterThan(-0.5)
    // Converted as if it were played once, its ends ring into silence.
    const asOnce = channelOf(once!.bytes)
    expect(toneReading(turned(asOnce), asOnce.length, 1501).distortionDb).toBeGreaterThan(-60)
  })
})

describe('levels', () => {
  test('land where they should, and the true peak stays below the ceiling', async () => {
    const ceiling: RecipeAction = { do: 'ceiling', ceilingDbtp: -1, mostReductionDb: 6, isLoop: false }
    const loud = wavFile([noise(5, 96_000, 0.9)], { rateHz: 48_000 })
    const [made] = await make([
      { bytes: loud, actions: [rate(48_000, 44_100), { do: 'gain', gainDb: 4 }, ceiling, depth(16), header] },
    ])
    expect(made!.sound.inspection.measures!.levels.truePeakDbtp).toBeLessThanOrEqual(-1)
    expect(made!.sound.outcome.limitedByDb).toBeGreaterThan(3)
    expect(made!.sound.outcome.limitedByDb).toBeLessThanOrEqual(6)
  })

  test('a sound that lands by itself does so within 0.1 LU, though a change of rate took from it', async () => {
    // Even noise: what lies above the new half rate is heard.
    const bytes = wavFile([noise(7, 96_000, 0.3)], { rateHz: 48_000 })
    const gain = (aimLufs?: number): RecipeAction =>
      aimLufs === undefined ? { do: 'gain', gainDb: -6 } : { do: 'gain', gainDb: -6, aimLufs }
    const [free] = await make([{ bytes, actions: [rate(48_000, 32_000), gain(), depth(16), header] }])
    const natural = free!.sound.inspection.measures!.levels.integratedLufs!
    const aim = natural + 0.4
    const [aimed] = await make([{ bytes, actions: [rate(48_000, 32_000), gain(aim), depth(16), header] }])
    expect(aimed!.sound.inspection.measures!.levels.integratedLufs!).toBeCloseTo(aim, 1)
    expect(aimed!.sound.outcome.correctedByDb).toBeCloseTo(0.4, 1)
    expect(free!.sound.outcome.correctedByDb).toBe(0)
  })

  test('the limiter takes no more than the board allows: the whole sound is made softer instead', async () => {
    const ceiling: RecipeAction = { do: 'ceiling', ceilingDbtp: -1, mostReductionDb: 3, isLoop: false }
    const bytes = wavFile([sine(44_100, 500, 44_100, 0.9)], { rateHz: 44_100 })
    const [made] = await make([{ bytes, actions: [{ do: 'gain', gainDb: 8 }, ceiling, depth(16), header] }])
    expect(made!.sound.outcome.softenedByDb).toBeCloseTo(5.1, 0)
    expect(made!.sound.outcome.limitedByDb).toBeLessThanOrEqual(3)
    expect(made!.sound.inspection.measures!.levels.truePeakDbtp).toBeLessThanOrEqual(-1)
  })

  test('a loop that is limited and filtered still closes', async () => {
    const loop = sine(44_100, 100, 44_100, 0.9).map((sample, frame) => sample * (frame < 2000 ? 1 : 0.6))
    const round: RecipeAction[] = [
      { do: 'high-pass', frequencyHz: 80, isLoop: true },
      { do: 'gain', gainDb: 3 },
      { do: 'ceiling', ceilingDbtp: -2, mostReductionDb: 6, isLoop: true },
    ]
    const [made] = await make([
      { bytes: wavFile([loop], { rateHz: 44_100 }), actions: [...round, depth(16), header] },
    ])
    const before = Math.abs((loop[0] ?? 0) - (loop.at(-1) ?? 0))
    const samples = channelOf(made!.bytes)
    expect(Math.abs((samples[0] ?? 0) - (samples.at(-1) ?? 0))).toBeLessThan(before + 0.02)
  })
})

describe('odd originals', () => {
  const usual: RecipeAction[] = [
    rate(192_000, 44_100),
    { do: 'channels', how: 'fold', to: 1, kept: 0 },
    depth(16),
    header,
  ]
  test.each([
    { name: 'one sample', channels: [[0.5]], actions: [depth(16), header], frames: 1 },
    {
      name: 'eight channels at 192 kHz',
      channels: Array.from({ length: 8 }, (_, seed) => noise(seed + 1, 19_200)),
      rateHz: 192_000,
      actions: usual,
      frames: 4410,
    },
    {
      name: 'silence',
      channels: [new Float64Array(500)],
      actions: [{ do: 'gain', gainDb: 6 }, depth(16), header],
      frames: 500,
    },
    {
      name: 'nothing but DC',
      channels: [new Float64Array(500).fill(0.5)],
      actions: [{ do: 'remove-dc' }, depth(16), header],
      frames: 500,
    },
    {
      name: 'everything clipped',
      channels: [sine(44_100, 300, 5000, 40).map((sample) => Math.max(-1, Math.min(0.99997, sample)))],
      actions: [{ do: 'ceiling', ceilingDbtp: -1, mostReductionDb: 6, isLoop: false }, depth(16), header],
      frames: 5000,
    },
  ] as {
    name: string
    channels: Float64Array[]
    rateHz?: number
    actions: RecipeAction[]
    frames: number
  }[])('$name is prepared like any other', async ({ channels, rateHz = 44_100, actions, frames }) => {
    const [made] = await make([{ bytes: wavFile(channels, { rateHz }), actions }])
    expect(made!.sound.inspection.facts).toMatchObject({ frames, channels: 1, defects: [] })
  })

  test('one that cannot be read is told, and the rest goes on', async () => {
    const folder = temporaryFolder()
    const preparer = openPreparer({ scratchFolder: join(folder, 'scratch') })
    const [bad, good] = await makeFrom(preparer, folder, [
      { bytes: Buffer.from('no sound at all'), actions: [depth(16), header] },
      {
        bytes: wavFile([noise(1, 900)], { rateHz: 48_000 }),
        actions: [rate(48_000, 44_100), depth(16), header],
      },
    ])
    expect(bad).toMatchObject({ problem: { code: 'sound/no-samples' } })
    expect(good).toHaveProperty('sound')
    expect(readdirSync(join(folder, 'scratch'))).toEqual([])
  })
})

describe('what is found out', () => {
  test('channels, seam and levels, the two layers of a swing together', async () => {
    const folder = temporaryFolder()
    const preparer = openPreparer({ scratchFolder: join(folder, 'scratch') })
    const layer = (seed: number) => {
      const path = join(folder, `${seed}.wav`)
      const bytes = wavFile([noise(seed, 48_000, 0.2), noise(seed + 9, 48_000, 0.2)], { rateHz: 48_000 })
      writeFileSync(path, bytes)
      return { path, sizeBytes: bytes.length, sha256: String(seed).padStart(64, '0') }
    }
    const originals = [layer(1), layer(2)]
    const group: SoundGroup = {
      wantsSeam: true,
      mayHideDip: false,
      sounds: originals.map(({ sha256 }) => ({
        sha256,
        recipe: { steps: [{ action: rate(48_000, 44_100, true), rule: '', reason: '' }], told: [] },
        foldTo: 1,
        wantsLevels: true,
        speakerLowLimitHz: 300,
        limiting: null,
        wantsEnds: false,
      })),
    }
    let answers: readonly SoundAnswer[] = []
    await preparer.answer(
      [{ group, originals }],
      (_, came) => {
        if ('made' in came) answers = came.made
      },
      nobodyCancels,
    )
    expect(answers).toHaveLength(2)
    expect(answers[0]?.channels).toMatchObject({ how: 'fold', to: 1 })
    expect(answers[0]?.seam).toEqual(answers[1]?.seam)
    expect(answers[0]?.seam?.endFrame).toBeLessThanOrEqual(44_100)
    expect(answers[0]?.levels?.truePeakDbtp).toBeLessThan(0)
    expect(answers[0]?.throughSpeaker?.integratedLufs).toBeLessThan(answers[0]?.levels?.integratedLufs ?? -99)
  })
})

describe('ffmpeg that does not do its work', () => {
  const sounds = [
    {
      bytes: wavFile([noise(1, 900)], { rateHz: 48_000 }),
      actions: [rate(48_000, 44_100), depth(16), header],
    },
    { bytes: wavFile([noise(2, 900)], { rateHz: 44_100 }), actions: [depth(24), header] },
  ]
  test.each([
    { name: 'is missing', script: null, code: 'prepare/no-ffmpeg' },
    { name: 'ends with an error', script: 'exit 1', code: 'prepare/ffmpeg-failed' },
    { name: 'is killed', script: 'kill -9 $$', code: 'prepare/ffmpeg-failed' },
    { name: 'gives nothing', script: 'exit 0', code: 'prepare/cut-short' },
  ])('$name: its sounds are told, the others are made', async ({ script, code }) => {
    const folder = temporaryFolder()
    const program = join(folder, 'bin', 'ffmpeg')
    mkdirSync(join(folder, 'bin'))
    if (script !== null) {
      writeFileSync(program, `#!/bin/sh\n${script}\n`)
      chmodSync(program, 0o755)
    }
    useFfmpeg(program)
    const preparer = openPreparer({ scratchFolder: join(folder, 'scratch') })
    const [needs, free] = await makeFrom(preparer, folder, sounds)
    expect(needs).toMatchObject({ problem: { code } })
    expect(free).toHaveProperty('sound')
    expect((await preparer.tools()).fallBack).toMatch(/ffmpeg/)
  })
})

describe('an ffmpeg without soxr', () => {
  test('does it by its own resampler; that is told, and its sounds are kept apart from those by soxr', async () => {
    const folder = temporaryFolder()
    const scratchFolder = join(folder, 'scratch')
    const usual = await openPreparer({ scratchFolder }).tools()
    standIn(
      'echo "ffmpeg version 9.9-plain Copyright"; echo "configuration: --disable-everything"',
      'case "$*" in *soxr*) exit 1;; esac',
    )
    const preparer = openPreparer({ scratchFolder })
    const tools = await preparer.tools()
    expect(tools.fallBack).toMatch(/9\.9-plain has no soxr resampler/)
    expect(tools.withFfmpeg).toContain('9.9-plain')
    expect(tools.withFfmpeg).not.toBe(usual.withFfmpeg)
    expect(tools.own).toBe(usual.own)
    const actions = [rate(48_000, 44_100), depth(24), header]
    const [made] = await makeFrom(preparer, folder, [{ bytes: tone(48_000, 1000), actions }])
    if (made === undefined || 'problem' in made) throw new Error('it was not made')
    expect(channelOf(made.bytes).length).toBe(2 * 44_100)
    expect(toneReading(channelOf(made.bytes), 44_100, 1000).distortionDb).toBeLessThan(-90)
  })
})

test('what ends or hangs a worker is told, and the rest goes on', async () => {
  const folder = temporaryFolder()
  const entry = new URL('../support/failing-prepare-worker-child.ts', import.meta.url)
  const preparer = openPreparer({ scratchFolder: join(folder, 'scratch'), entry, hangAfterMs: 3000 })
  const sounds = ['fine', 'dies', 'fine', 'hangs', 'fine'].map((name, index) => ({
    original: { path: name, sizeBytes: 1, sha256: String(index) },
    recipe: { steps: [], told: [] },
  }))
  const came: string[] = []
  await preparer.make(
    sounds,
    async (index, result) => {
      came[index] = 'problem' in result ? result.problem.code : 'made'
    },
    nobodyCancels,
  )
  expect(came).toEqual(['made', 'prepare/worker-died', 'made', 'prepare/hung', 'made'])
})

test('a run of ffmpeg that comes to no end is ended', async () => {
  const folder = temporaryFolder()
  const program = join(folder, 'ffmpeg')
  writeFileSync(program, '#!/bin/sh\nexec sleep 600\n')
  chmodSync(program, 0o755)
  useFfmpeg(program)
  const run = {
    inputs: [{ path: join(folder, 'in'), reader: 'f32le' }],
    outputs: [{ path: join(folder, 'out'), options: ['-f', 'f32le'] }],
  }
  await expect(runFfmpeg({ ...run, longestMs: 200 })).rejects.toMatchObject({ cause: 'hung' })
})

test('two runs at a time do not touch what the other has half done', async () => {
  const folder = temporaryFolder()
  const preparer = openPreparer({ scratchFolder: join(folder, 'scratch') })
  const soundsOf = (seeds: readonly number[]) =>
    seeds.map((seed) => ({
      bytes: wavFile([noise(seed, 60_000), noise(seed + 50, 60_000)], { rateHz: 48_000 }),
      actions: [
        { do: 'channels', how: 'fold', to: 1, kept: 0 } as const,
        rate(48_000, 44_100),
        depth(16),
        header,
      ],
    }))
  const runs = [soundsOf([1, 2, 3, 4, 5, 6]), soundsOf([11, 12, 13, 14, 15, 16])]
  const madeIn = (name: string, sounds: ReturnType<typeof soundsOf>) => {
    mkdirSync(join(folder, name))
    return makeFrom(preparer, join(folder, name), sounds)
  }
  const together = await Promise.all(runs.map((sounds, index) => madeIn(`together-${index}`, sounds)))
  for (const [index, sounds] of runs.entries()) {
    const alone = await madeIn(`alone-${index}`, sounds)
    const hashes = (made: typeof alone) =>
      made.map((each) => ('sound' in each ? each.sound.inspection.sha256 : each.problem.code))
    expect(hashes(together[index]!)).toEqual(hashes(alone))
  }
  expect(readdirSync(join(folder, 'scratch'))).toEqual([])
})

test('cancelling ends ffmpeg and leaves nothing behind', async () => {
  const folder = temporaryFolder()
  const abort = new AbortController()
  const preparer = openPreparer({ scratchFolder: join(folder, 'scratch') })
  const long = wavFile([noise(1, 2_000_000)], { rateHz: 48_000 })
  const running = makeFrom(
    preparer,
    folder,
    [{ bytes: long, actions: [rate(48_000, 44_100), depth(16), header] }],
    abort.signal,
  )
  const cancelled = expect(running).rejects.toMatchObject({ code: 'cancelled' })
  const scratch = join(folder, 'scratch')
  const isConverting = () =>
    existsSync(scratch) &&
    readdirSync(scratch, { recursive: true }).some((name) => String(name).endsWith('.out'))
  await vi.waitUntil(isConverting, { timeout: 20_000, interval: 1 })
  abort.abort()
  await cancelled
  expect(readdirSync(scratch)).toEqual([])
})

test('workers rest for the next run, and end when the workshop is closed', async () => {
  const { report } = process
  const workerCount = () => (report.getReport() as { readonly workers: readonly unknown[] }).workers.length
  const before = workerCount()
  const folder = temporaryFolder()
  const preparer = openWorkerPreparer({ scratchFolder: join(folder, 'scratch') })
  const sound = { bytes: wavFile([noise(1, 900)]), actions: [depth(16), header] }
  await makeFrom(preparer, folder, [sound])
  expect(workerCount()).toBe(before + 1)
  preparer.getReady()
  await preparer.close()
  expect(workerCount()).toBe(before)
})
