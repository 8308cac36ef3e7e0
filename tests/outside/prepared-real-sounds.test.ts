import { spawnSync } from 'node:child_process'
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { ALSA, PROMPTS, REAL_SOUNDS } from '../support/real-sounds.ts'
import { missingReferences, testAgainst } from '../support/reference-tools.ts'
import { runCli } from '../support/run-cli.ts'

/**
 * Real sounds, given roles and prepared for all three boards. What comes out is read by SoX, ffmpeg and
 * Python, and its loudness by ffmpeg's own meter.
 */
const REFERENCES = ['soxi', 'ffprobe', 'ffmpeg', 'python3', PROMPTS, ALSA]
const testReal = testAgainst(...REFERENCES)

type Report = ResponseOf<'prepare'>
const BOARDS = ['bench-44', 'bench-32', 'bench-48'] as const
const reports = new Map<string, Report>()
let folder: string

const cli = (...args: string[]) => runCli([...args, '--workshop', join(folder, 'workshop')], { cwd: folder })

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'cardwright-prepared-'))
  if (missingReferences(REFERENCES).length > 0) return
  mkdirSync(join(folder, 'Real'))
  for (const [name, path] of Object.entries(REAL_SOUNDS)) copyFileSync(path, join(folder, 'Real', name))
  await cli('scan', 'Real')
  for (const board of BOARDS) {
    const run = await cli('prepare', 'Real', '--board', board, '--into', `into-${board}`, '--json')
    reports.set(board, JSON.parse(run.stdout) as Report)
  }
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** The prepared files of a board. */
function written(board: string): readonly string[] {
  const names = readdirSync(join(folder, `into-${board}`), { recursive: true, encoding: 'utf8' })
  return names.filter((name) => /\.wav$/i.test(name)).map((name) => join(folder, `into-${board}`, name))
}

function output(command: string, args: readonly string[]): string {
  const result = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1 << 26 })
  expect(result.status, result.stderr).toBe(0)
  return result.stdout + result.stderr
}

const RATES: Readonly<Record<string, number>> = { 'bench-44': 44_100, 'bench-32': 32_000, 'bench-48': 48_000 }

describe.each(BOARDS)('twenty real sounds prepared for %s', (board) => {
  testReal('are ready, every one', () => {
    const report = reports.get(board)
    const [font] = report?.fonts ?? []
    expect(report?.counts).toMatchObject({ failed: 0, planned: 0 })
    expect(font?.sounds).toHaveLength(20)
    expect(font?.verdictAfter.word).toBe('ready')
  })

  testReal('read the same to SoX, ffprobe and Python', () => {
    const files = written(board)
    expect(files).toHaveLength(20)
    const lines = (flag: string) =>
      output('soxi', [flag, ...files])
        .trim()
        .split('\n')
    expect(new Set(lines('-r'))).toEqual(new Set([String(RATES[board])]))
    expect(new Set(lines('-c'))).toEqual(new Set(['1']))
    expect(new Set(lines('-b'))).toEqual(new Set(['16']))
    const frames = lines('-s').map(Number)
    const script =
      'import sys,wave\nfor f in sys.argv[1:]:\n  w=wave.open(f)\n  print(w.getnframes(),w.getframerate(),w.getsampwidth(),w.getnchannels())'
    const python = output('python3', ['-c', script, ...files])
      .trim()
      .split('\n')
    expect(python).toEqual(frames.map((count) => `${count} ${RATES[board]} 2 1`))
    for (const [index, file] of files.entries()) {
      const entries = [
        '-show_entries',
        'stream=codec_name,sample_rate,channels,duration_ts',
        '-of',
        'csv=p=0',
      ]
      const probed = output('ffprobe', ['-v', 'error', ...entries, file]).trim()
      expect(probed).toBe(`pcm_s16le,${RATES[board]},1,${frames[index]}`)
    }
  })

  testReal(
    "have a hum in the middle of the board's band by ffmpeg's meter, and no peak above the ceiling",
    () => {
      const hum = written(board).find((file) => /hum|HUM|hum.*take/i.test(file.slice(folder.length)))
      const told = output('ffmpeg', [
        '-nostdin',
        '-hide_banner',
        '-i',
        hum ?? '',
        '-af',
        'ebur128',
        '-f',
        'null',
        '-',
      ])
      const integrated = Number(
        /I:\s+(-?[\d.]+) LUFS\s+Threshold/.exec(told.slice(told.lastIndexOf('Summary')))?.[1],
      )
      const row = reports.get(board)?.fonts[0]
      expect(Math.abs(integrated - (row?.humAfterLufs ?? 0))).toBeLessThanOrEqual(0.11)
      if (row?.gainDb !== null)
        expect(Math.abs(integrated + (board === 'bench-48' ? 22.5 : 22))).toBeLessThanOrEqual(0.15)
      for (const { after, before, path } of row?.sounds ?? []) {
        const peak = (after ?? before).truePeakDbtp
        if (peak !== null) expect(peak, path).toBeLessThanOrEqual(board === 'bench-32' ? -2 : -1)
      }
    },
  )

  testReal('need nothing more: a second run has only what the first one made', async () => {
    const again = JSON.parse((await cli('prepare', 'Real', '--board', board, '--json')).stdout) as Report
    expect(again.counts).toMatchObject({ made: 0, failed: 0, planned: 0 })
    expect(again.fonts[0]?.sounds.map(({ after }) => after?.sha256)).toEqual(
      reports.get(board)?.fonts[0]?.sounds.map(({ after }) => after?.sha256),
    )
  })
})
