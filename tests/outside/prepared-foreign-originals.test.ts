import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { missingReferences, testAgainst } from '../support/reference-tools.ts'
import { runCli } from '../support/run-cli.ts'
import { noise, sine } from '../support/signals.ts'
import { rmsDb } from '../support/tone-analysis.ts'
import { wavFile } from '../support/wav-bytes.ts'
import { channelOf } from '../support/open-preparer.ts'

/** Music and hums as creators also deliver them, encoded by ffmpeg: prepared for a board that takes WAV only. */
const REFERENCES = ['ffmpeg']
const testEncoded = testAgainst(...REFERENCES)
const RATE = 48_000
const TO = 44_100

interface Delivered {
  readonly ending: string
  readonly encoder: readonly string[]
  /** Whether its frames are the very frames that were encoded. */
  readonly isExact: boolean
}

const DELIVERED: readonly Delivered[] = [
  { ending: 'mp3', encoder: ['-c:a', 'libmp3lame', '-b:a', '192k'], isExact: true },
  { ending: 'flac', encoder: ['-c:a', 'flac'], isExact: true },
  { ending: 'ogg', encoder: ['-c:a', 'libvorbis', '-q:a', '6'], isExact: true },
  { ending: 'm4a', encoder: ['-c:a', 'aac', '-b:a', '192k'], isExact: false },
  { ending: 'aiff', encoder: ['-c:a', 'pcm_s16be'], isExact: true },
]

const FRAMES = 3 * RATE + 7
const hiss = noise(9, FRAMES, 0.3)
const tone = sine(RATE, 440, FRAMES, 0.2).map((sample, frame) => sample + (hiss[frame] ?? 0))
const hums = sine(RATE, 100, 2 * RATE, 0.03)
let folder: string
let report: ResponseOf<'prepare'>

function encoded(from: string, to: string, encoder: readonly string[]): void {
  const run = spawnSync('ffmpeg', ['-nostdin', '-v', 'error', '-y', '-i', from, ...encoder, to], {
    encoding: 'utf8',
  })
  if (run.status !== 0) throw new Error(run.stderr)
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'cardwright-foreign-'))
  if (missingReferences(REFERENCES).length > 0) return
  const cli = (...args: string[]) =>
    runCli([...args, '--workshop', join(folder, 'workshop')], { cwd: folder })
  const burst = noise(3, RATE, 0.1).map((sample, frame) => sample * Math.exp(-frame / 8000))
  writeFileSync(join(folder, 'music.wav'), wavFile([tone], { rateHz: RATE }))
  writeFileSync(join(folder, 'hum.wav'), wavFile([hums], { rateHz: RATE }))
  for (const { ending, encoder } of DELIVERED) {
    const font = join(folder, 'fonts', `As ${ending}`)
    mkdirSync(font, { recursive: true })
    for (const name of ['ignite-01.wav', 'retract-01.wav', 'clash-01.wav', 'swing-01.wav'])
      writeFileSync(join(font, name), wavFile([burst], { rateHz: RATE }))
    encoded(join(folder, 'music.wav'), join(font, `music.${ending}`), encoder)
    encoded(join(folder, 'hum.wav'), join(font, `hum.${ending}`), encoder)
  }
  await cli('scan', 'fonts')
  const names = DELIVERED.map(({ ending }) => `As ${ending}`)
  const run = await cli('prepare', ...names, '--board', 'bench-44', '--into', 'cards', '--json')
  report = JSON.parse(run.stdout) as ResponseOf<'prepare'>
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const written = (ending: string, role: string) => {
  const place = report.fonts.find(({ font }) => font === `As ${ending}`)?.folder ?? ''
  const name = readdirSync(join(folder, 'cards', place)).find((each) => each.startsWith(role)) ?? ''
  return new Uint8Array(readFileSync(join(folder, 'cards', place, name)))
}

describe.each(DELIVERED)('a font with a hum and music as $ending', ({ ending, isExact }) => {
  testEncoded('is fixable before, and ready prepared', () => {
    const font = report.fonts.find(({ font: name }) => name === `As ${ending}`)
    expect(font?.verdictBefore.word).toBe('fixable')
    expect(font?.verdictAfter.word).toBe('ready')
    const music = font?.sounds.find(({ role }) => role === 'music')
    expect(music?.steps.map(({ step }) => step)).toEqual(
      expect.arrayContaining(['decode', 'sample-rate', 'header']),
    )
    expect(music?.after).toMatchObject({ sampleRateHz: TO, bitDepth: 16, channels: 1 })
  })

  testEncoded('keeps the length of its loop exactly, without padding at its ends', () => {
    const hum = channelOf(written(ending, 'hum'))
    const frames = Math.round((2 * RATE * TO) / RATE)
    if (isExact) expect(hum.length).toBe(frames)
    else expect(Math.abs(hum.length - frames)).toBeLessThan(4096)
    if (!isExact) return
    // An encoder's padding would be silence at an end of the loop.
    const edge = TO / 50
    const whole = rmsDb(hum)
    expect(Math.abs(rmsDb(hum.subarray(0, edge)) - whole)).toBeLessThan(1)
    expect(Math.abs(rmsDb(hum.subarray(hum.length - edge)) - whole)).toBeLessThan(1)
  })

  testEncoded('has its music at its aim, the same as from the WAV', () => {
    const font = report.fonts.find(({ font: name }) => name === `As ${ending}`)
    const music = font?.sounds.find(({ role }) => role === 'music')
    const gain = music?.steps.find(({ step }) => step === 'gain')?.numbers
    if (gain !== undefined) {
      expect(Math.abs((music?.after?.levelLufs ?? 0) - Number(gain['aimLufs']))).toBeLessThanOrEqual(0.1)
    }
    // A packed coding may end with the rest of its last packet.
    const samples = channelOf(written(ending, 'music'))
    const isWhole = ending === 'flac' || ending === 'aiff'
    expect(Math.abs(samples.length - Math.round((FRAMES * TO) / RATE))).toBeLessThan(isWhole ? 1 : 4096)
  })
})
