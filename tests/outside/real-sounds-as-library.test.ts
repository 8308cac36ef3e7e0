import { spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import { runCli } from '../support/run-cli.ts'
import { missingReferences, testAgainst } from '../support/reference-tools.ts'

/**
 * Real audio that nobody here made: the voice prompts of Debian's `asterisk-core-sounds-en-wav` and
 * the test sounds of `alsa-utils`, scanned as a library. Judge: `soxi` of SoX 14.4.
 */
const PROMPTS = '/usr/share/asterisk/sounds/en_US_f_Allison'
const ALSA = '/usr/share/sounds/alsa'
const testSounds = testAgainst('soxi', PROMPTS, ALSA)

interface ListedFont {
  id: string
  soundCount: number
  places: { path: string; innerPath: string | null }[]
  verdict: { word: string } | null
}
interface ShownSound {
  path: string
  inspection: {
    facts: { frames: number; sampleRateHz: number; channels: number; bitDepth: number; seconds: number }
  }
}

let folder: string
let scan: { code: number | null; report: { roots: { path: string; sounds: number; problems: unknown[] }[] } }
let fonts: ListedFont[]

async function ask<T>(...args: string[]): Promise<{ code: number | null; value: T }> {
  const run = await runCli([...args, '--json', '--workshop', join(folder, 'workshop')])
  return { code: run.code, value: JSON.parse(run.stdout) as T }
}

function wavFiles(root: string): string[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.wav'))
    .map((entry) => join(entry.parentPath, entry.name))
    .toSorted()
}

/** What soxi says of each file, asked in one call a fact. */
function soxi(flag: string, files: readonly string[]): string[] {
  const result = spawnSync('soxi', [flag, ...files], { encoding: 'utf8', maxBuffer: 1 << 26 })
  return result.stdout.trim().split('\n')
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'cardwright-real-'))
  if (missingReferences(['soxi', PROMPTS, ALSA]).length > 0) return
  const answer = await ask<(typeof scan)['report']>('scan', PROMPTS, ALSA)
  scan = { code: answer.code, report: answer.value }
  fonts = (await ask<{ fonts: ListedFont[] }>('fonts', 'list', '--board', 'bench-44')).value.fonts
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('voice prompts and test sounds of Debian packages, scanned as a library', () => {
  testSounds('every sound is found, and none is a problem', () => {
    expect(scan.code).toBe(0)
    const sounds = scan.report.roots.map((root) => [root.path, root.sounds, root.problems])
    expect(sounds).toEqual([
      [PROMPTS, wavFiles(PROMPTS).length, []],
      [ALSA, wavFiles(ALSA).length, []],
    ])
  })

  testSounds('their folders are editions whose roles nobody knows', () => {
    expect(fonts.length).toBeGreaterThan(1)
    expect(new Set(fonts.map((font) => font.verdict?.word))).toEqual(new Set(['unrecognised']))
  })

  testSounds(
    'frames, rate, channels, bits and seconds of every sound are those that soxi tells',
    async () => {
      const ours = new Map<string, ShownSound['inspection']['facts']>()
      for (const font of fonts) {
        const { sounds } = (await ask<{ sounds: ShownSound[] }>('sounds', font.id)).value
        for (const sound of sounds) ours.set(join(font.places[0]!.path, sound.path), sound.inspection.facts)
      }
      const files = [...wavFiles(PROMPTS), ...wavFiles(ALSA)]
      expect([...ours.keys()].toSorted()).toEqual(files.toSorted())
      const facts = files.map((file) => ours.get(file)!)
      const names = (values: readonly (string | number)[]) =>
        files.map((file, n) => `${relative('/usr/share', file)} ${values[n]}`)
      expect(names(facts.map((fact) => fact.frames))).toEqual(names(soxi('-s', files).map(Number)))
      expect(names(facts.map((fact) => fact.sampleRateHz))).toEqual(names(soxi('-r', files).map(Number)))
      expect(names(facts.map((fact) => fact.channels))).toEqual(names(soxi('-c', files).map(Number)))
      expect(names(facts.map((fact) => fact.bitDepth))).toEqual(names(soxi('-b', files).map(Number)))
      expect(names(facts.map((fact) => fact.seconds.toFixed(4)))).toEqual(
        names(soxi('-D', files).map((seconds) => Number(seconds).toFixed(4))),
      )
    },
  )

  testSounds('the board that takes 44.1 kHz refuses their 8 kHz, and says so of every prompt', async () => {
    const prompts = fonts.filter((font) => font.places[0]!.path.startsWith(PROMPTS))
    const { code, value } = await ask<{
      fonts: { findings: { rule: string; severity: string; path: string | null; message: string }[] }[]
    }>('check', ...prompts.map((font) => font.id), '--board', 'bench-44')
    expect(code).toBe(1)
    const rates = value.fonts
      .flatMap((font) => font.findings)
      .filter((finding) => finding.rule === 'sample-rate')
    expect(rates.length).toBe(wavFiles(PROMPTS).length)
    for (const finding of rates) {
      expect(finding.severity).toBe('error')
      expect(finding.message).toMatch(/8 ?000 Hz|8 kHz/)
      expect(finding.message).toMatch(/44[ .,]?1/)
    }
  })
})
