import { spawnSync } from 'node:child_process'
import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import type { SoundInspection } from '../../app/model/sound.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { missingReferences, testAgainst } from '../support/reference-tools.ts'

/**
 * Real WAVs that Debian packages carry: the test sounds of `alsa-utils` and the voice prompts of
 * `asterisk-core-sounds-en-wav`, file by file against `soxi` (SoX) and `ffprobe` (ffmpeg).
 */
const FOLDERS = ['/usr/share/sounds/alsa', '/usr/share/asterisk/sounds/en_US_f_Allison']

const wavsBelow = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.wav'))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => statSync(path).size > 44)
    .sort()

describe('facts of real WAVs are those of SoX and ffmpeg', () => {
  const inspector = openWorkerInspector()
  const inspections: SoundInspection[] = []
  let paths: string[] = []

  beforeAll(async () => {
    if (missingReferences(FOLDERS).length > 0) return
    paths = FOLDERS.flatMap(wavsBelow)
    await inspector.inspectFiles(
      paths.map((path) => ({ path, sizeBytes: statSync(path).size })),
      (index, { inspection }) => (inspections[index] = inspection),
      new AbortController().signal,
    )
  })
  afterAll(() => inspector.close())

  testAgainst('soxi', ...FOLDERS)('frames, rate, channels and bits by soxi', () => {
    const ask = (what: string) =>
      spawnSync('soxi', [what, ...paths], { encoding: 'utf8', maxBuffer: 1 << 26 })
        .stdout.trim()
        .split('\n')
        .map(Number)
    expect(paths.length).toBeGreaterThan(100)
    expect(inspections.map(({ facts }) => facts?.frames)).toEqual(ask('-s'))
    expect(inspections.map(({ facts }) => facts?.sampleRateHz)).toEqual(ask('-r'))
    expect(inspections.map(({ facts }) => facts?.channels)).toEqual(ask('-c'))
    expect(inspections.map(({ facts }) => facts?.bitDepth)).toEqual(ask('-b'))
  })

  testAgainst('ffprobe', ...FOLDERS)('frames, rate, channels and bits by ffprobe', () => {
    for (const [index, path] of paths.entries()) {
      const args = [
        '-v',
        'error',
        '-show_entries',
        'stream=sample_rate,channels,bits_per_sample,duration_ts',
        '-of',
        'json',
        path,
      ]
      const { stdout } = spawnSync('ffprobe', args, { encoding: 'utf8' })
      const stream = (JSON.parse(stdout) as { streams: Record<string, number | string>[] }).streams[0]
      const { facts } = inspections[index] ?? {}
      expect([facts?.frames, facts?.sampleRateHz, facts?.channels, facts?.bitDepth], path).toEqual([
        Number(stream?.duration_ts),
        Number(stream?.sample_rate),
        Number(stream?.channels),
        Number(stream?.bits_per_sample),
      ])
    }
  })
})
