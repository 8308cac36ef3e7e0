import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import type { MeasuredSound } from '../../../app/contract/measured-sound.ts'
import { expectDocument } from '../../support/json-document.ts'
import { runCliHere } from '../../support/run-cli.ts'
import { sine } from '../../support/signals.ts'
import { id3Tag, join as joined, wavFile } from '../../support/wav-bytes.ts'

const folder = mkdtempSync(join(tmpdir(), 'cardwright-test-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const tone = (hz: number) => wavFile([sine(44100, hz, 44100, 0.25)], { rateHz: 44100 })
const files: Readonly<Record<string, Uint8Array>> = {
  'low.wav': tone(100),
  'high.wav': tone(1000),
  'tagged.wav': joined([id3Tag(77), tone(1000)]),
  'short.wav': wavFile([[0.5]]),
  'text.wav': new TextEncoder().encode('this is no sound at all'),
  'empty.wav': new Uint8Array(),
}
for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes)
mkdirSync(join(folder, 'folder'))

async function measure(...args: string[]): Promise<{ code: number | null; sounds: MeasuredSound[] }> {
  const { code, stdout } = await runCliHere(['measure', ...args, '--json'], { cwd: folder })
  return { code, sounds: expectDocument('measure', stdout) as MeasuredSound[] }
}

describe('measure', () => {
  test('answers in the order of its arguments, a file named twice included', async () => {
    const { code, sounds } = await measure('high.wav', 'low.wav', 'tagged.wav', 'high.wav')
    expect(code).toBe(0)
    expect(sounds.map(({ path }) => path.slice(folder.length + 1))).toEqual([
      'high.wav',
      'low.wav',
      'tagged.wav',
      'high.wav',
    ])
    expect(sounds[2]).toMatchObject({
      container: 'other',
      coding: 'pcm',
      levels: sounds[0]?.levels,
      defects: [{ code: 'tag-before-header', offset: 0 }],
    })
  })

  test('every null has its cause, and a speaker its level', async () => {
    const { sounds } = await measure('low.wav', 'short.wav', '--speaker', '300')
    const [low, short] = sounds
    // 10 log10(1 + (300/100)^4) = 19.1 dB
    expect((low?.levelLufs ?? 0) - (low?.throughSpeakerLufs ?? 0)).toBeCloseTo(19.1, 0)
    expect(short?.levels.integratedLufs).toBeNull()
    expect(short?.reasons).toHaveProperty('integratedLufs')
    const without = (await measure('low.wav')).sounds[0]
    expect(without).toMatchObject({
      throughSpeakerLufs: null,
      reasons: { throughSpeakerLufs: 'no-speaker-named' },
    })
  })

  test.each([
    [['high.wav', 'text.wav'], 1, [undefined, 'sound/not-recognised']],
    [['missing.wav', 'high.wav', 'folder'], 1, ['file/missing', undefined, 'file/is-folder']],
    [['text.wav', 'empty.wav'], 2, ['sound/not-recognised', 'sound/empty']],
  ])('%j ends with %i and says of each file what is wrong', async (names, exitCode, codes) => {
    const { code, sounds } = await measure(...names)
    expect(code).toBe(exitCode)
    expect(sounds.map(({ error }) => error?.code)).toEqual(codes)
    for (const { error } of sounds) expect(error?.message ?? 'a sentence.').toMatch(/[.;]/)
  })
})
