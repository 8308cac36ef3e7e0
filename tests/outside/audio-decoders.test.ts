import { spawnSync } from 'node:child_process'
import { statSync, writeFileSync, mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import type { SoundInspection } from '../../app/model/sound.ts'
import { decodeByFfmpeg } from '../../main/adapters/media/decode-by-ffmpeg.ts'
import { ffmpegPath } from '../../main/adapters/media/ffmpeg-path.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { measured } from '../support/inspected.ts'
import { noise, sine } from '../support/signals.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { wavFile } from '../support/wav-bytes.ts'

const inspectors: { close(): Promise<void> }[] = []
afterEach(() => Promise.all(inspectors.splice(0).map((inspector) => inspector.close())))

async function inspectFile(path: string): Promise<SoundInspection> {
  const inspector = openWorkerInspector()
  inspectors.push(inspector)
  let found: SoundInspection | undefined
  await inspector.inspectFiles(
    [{ path, sizeBytes: statSync(path).size }],
    (_, { inspection }) => (found = inspection),
    new AbortController().signal,
  )
  if (found === undefined) throw new Error('it was not answered')
  return found
}

const tone = sine(44100, 440, 44100 * 2, 0.3)
const plain = () => wavFile([tone], { rateHz: 44100 })

/** Writes the tone in another format by ffmpeg. */
function converted(folder: string, name: string, ...options: string[]): string {
  const from = join(folder, 'from.wav')
  const to = join(folder, name)
  writeFileSync(from, plain())
  const { status, stderr } = spawnSync(
    ffmpegPath() ?? 'ffmpeg',
    ['-v', 'error', '-y', '-i', from, ...options, to],
    {
      encoding: 'utf8',
    },
  )
  expect(status, stderr).toBe(0)
  return to
}

describe('WAVs in other codings are measured through a decoder', () => {
  test.each([
    { name: 'A-law', options: ['-c:a', 'pcm_alaw'], coding: 'alaw', tolerance: 0.1 },
    { name: 'mu-law', options: ['-c:a', 'pcm_mulaw'], coding: 'mulaw', tolerance: 0.1 },
    { name: 'IMA ADPCM', options: ['-c:a', 'adpcm_ima_wav'], coding: 'adpcm', tolerance: 0.2 },
    { name: 'MS ADPCM', options: ['-c:a', 'adpcm_ms'], coding: 'adpcm', tolerance: 0.2 },
  ])('$name', async ({ options, coding, tolerance }) => {
    const path = converted(temporaryFolder(), 'coded.wav', ...options)
    const { facts, measures, problem } = await inspectFile(path)
    expect(problem).toBeNull()
    expect(facts).toMatchObject({ container: 'riff', coding, channels: 1, sampleRateHz: 44100 })
    expect(facts?.frames).toBeGreaterThanOrEqual(44100 * 2)
    const want = measured(plain()).levels.integratedLufs ?? 0
    expect(Math.abs((measures?.levels.integratedLufs ?? Infinity) - want)).toBeLessThan(tolerance)
  })
})

describe('originals that are no WAV have their facts and are measured', () => {
  test.each([
    { name: 'flac', options: [], isExact: true },
    { name: 'aiff', options: [], isExact: true },
    { name: 'mp3', options: ['-b:a', '192k'], isExact: false },
    { name: 'ogg', options: ['-c:a', 'libvorbis'], isExact: false },
    { name: 'm4a', options: ['-c:a', 'aac'], isExact: false },
  ])('$name', async ({ name, options, isExact }) => {
    const path = converted(temporaryFolder(), `sound.${name}`, ...options)
    const { facts, measures, problem, sampleHash } = await inspectFile(path)
    expect(problem).toBeNull()
    expect(facts).toMatchObject({ container: 'other', coding: 'other', channels: 1, sampleRateHz: 44100 })
    expect(Math.abs((facts?.seconds ?? 0) - 2)).toBeLessThan(0.1)
    const want = measured(plain()).levels.integratedLufs ?? 0
    expect(Math.abs((measures?.levels.integratedLufs ?? Infinity) - want)).toBeLessThan(isExact ? 1e-6 : 0.4)
    if (isExact) expect(facts?.frames).toBe(44100 * 2)
    else expect(sampleHash).toBeNull()
  })

  test('a lossless one is known as the same sound as its WAV', async () => {
    const folder = temporaryFolder()
    const flac = await inspectFile(converted(folder, 'sound.flac'))
    const wav = await inspectFile(join(folder, 'from.wav'))
    expect(flac.sampleHash).toBe(wav.sampleHash)
  })

  test('an MP3 named .wav is told as what it is by being read as that', async () => {
    const folder = temporaryFolder()
    const mp3 = converted(folder, 'sound.mp3')
    const named = join(folder, 'named.wav')
    writeFileSync(named, readFileSync(mp3))
    expect((await inspectFile(named)).facts).toMatchObject({ container: 'other', sampleRateHz: 44100 })
  })
})

test.each([
  ['an MP3', 'tone.mp3', []],
  ['an A-law WAV', 'tone.wav', ['-c:a', 'pcm_alaw']],
])('%s is heard through a speaker as its samples are', async (_what, name, options) => {
  const path = converted(temporaryFolder(), name, ...options)
  const inspector = openWorkerInspector()
  inspectors.push(inspector)
  let heard: number | null | undefined
  await inspector.measureThroughSpeaker(
    [{ path, sizeBytes: statSync(path).size }],
    440,
    (_, readings) => (heard = readings?.momentaryMaxLufs),
    new AbortController().signal,
  )
  // At its own limit a Butterworth filter takes 3.01 dB from a tone.
  const whole = (await inspectFile(path)).measures?.levels.momentaryMaxLufs ?? 0
  expect(Math.abs((heard ?? 0) - (whole - 3.01))).toBeLessThan(0.2)
})

describe('a play list that is named like a sound opens no other file', () => {
  const script = (secret: string) => `ffconcat version 1.0\nfile '${secret}'\n`

  test('it is told as no sound', async () => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, 'secret.wav'), plain())
    writeFileSync(join(folder, 'list.wav'), script('secret.wav'))
    const { problem, measures } = await inspectFile(join(folder, 'list.wav'))
    expect(problem?.code).toBe('sound/not-recognised')
    expect(measures).toBeNull()
  })

  test.each(['wav', 'mp3', 'flac', 'ogg', 'm4a', 'aiff'] as const)(
    'nor through ffmpeg, taken for %s',
    async (kind) => {
      const folder = temporaryFolder()
      mkdirSync(join(folder, 'in'))
      writeFileSync(join(folder, 'secret.wav'), wavFile([noise(1, 44100)]))
      const path = join(folder, 'in', 'list.wav')
      writeFileSync(path, script(join(folder, 'secret.wav')))
      await expect(decodeByFfmpeg(path, kind, join(folder, 'out.wav'))).rejects.toMatchObject({
        code: 'sound/not-decodable',
      })
    },
  )
})

test('without any ffmpeg, the sound says what it needs', async () => {
  const folder = temporaryFolder()
  const path = converted(folder, 'sound.mp3')
  const before = process.env.CARDWRIGHT_FFMPEG
  process.env.CARDWRIGHT_FFMPEG = join(folder, 'no-such-program')
  try {
    await expect(decodeByFfmpeg(path, 'mp3', join(folder, 'out.wav'))).rejects.toMatchObject({
      code: 'sound/no-decoder',
    })
    expect((await inspectFile(path)).problem?.code).toBe('sound/no-decoder')
  } finally {
    if (before === undefined) delete process.env.CARDWRIGHT_FFMPEG
    else process.env.CARDWRIGHT_FFMPEG = before
  }
})
