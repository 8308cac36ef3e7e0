import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { openWorkshop, type Workshop } from '../../../main/workshop.ts'
import { noise, sine } from '../../support/signals.ts'
import { writeFiles } from '../../support/temporary-folder.ts'
import { wavFile } from '../../support/wav-bytes.ts'

const control = { onProgress: () => undefined, cancel: new AbortController().signal }
const RATE = 48_000
const boardId = 'bench-44'
const folder = mkdtempSync(join(tmpdir(), 'cardwright-prepared-'))
let workshop: Workshop
let editionIds: readonly string[]
let sounds: ReadonlyMap<string, string>

beforeAll(async () => {
  const burst = (seed: number) =>
    noise(seed, RATE, 0.08).map((sample, frame) => sample * Math.exp(-frame / 8000))
  writeFiles(folder, {
    'fonts/Ember/hum.wav': wavFile([sine(RATE, 100, 2 * RATE, 0.03)], { rateHz: RATE, bits: 24 }),
    'fonts/Ember/ignite-01.wav': wavFile([burst(1), burst(2)], { rateHz: RATE }),
    'fonts/Ember/retract-01.wav': wavFile([burst(3)], { rateHz: RATE }),
    'fonts/Ember/clash-01.wav': wavFile([burst(4)], { rateHz: RATE }),
    'fonts/Ember/swing-01.wav': wavFile([burst(5)], { rateHz: RATE }),
  })
  workshop = await openWorkshop({ folder: join(folder, 'workshop') })
  await workshop.core.scan({ paths: [join(folder, 'fonts')] }, control)
  const { fonts } = await workshop.core['fonts:list']({}, control)
  editionIds = fonts.map(({ id }) => id)
  const { edition } = await workshop.core['fonts:show']({ editionId: editionIds[0] ?? '' }, control)
  sounds = new Map(edition.sounds.map(({ path, id }) => [path, id]))
})
afterAll(async () => {
  await workshop.close()
  rmSync(folder, { recursive: true, force: true })
})

const rowOf = ({ fonts }: ResponseOf<'prepare'>, path: string) =>
  fonts[0]!.sounds.find((sound) => sound.path === path)!
const bytesOf = async (path: string, board?: string) => {
  const { sizeBytes, read } = await workshop.openSound(sounds.get(path)!, board)
  return new Response(read(0, sizeBytes)).bytes()
}

test('a dry run foresees what making it then gives', async () => {
  const planned = await workshop.core.prepare({ boardId, editionIds, dryRun: true }, control)
  const made = await workshop.core.prepare({ boardId, editionIds }, control)
  for (const { path, foreseen, state } of planned.fonts[0]!.sounds) {
    const { after, foreseen: nothing } = rowOf(made, path)
    expect({ path, state, nothing }).toEqual({ path, state: 'planned', nothing: null })
    const { sizeBytes, sampleRateHz, bitDepth, channels, seconds } = after!
    expect(foreseen).toMatchObject({ sizeBytes, sampleRateHz, bitDepth, channels, seconds })
    // A change of rate takes what lies above: of noise that is heard, of a hum it is nothing.
    const most = path === 'hum.wav' ? 0.1 : 1
    expect(Math.abs(foreseen!.levelLufs! - after!.levelLufs!), path).toBeLessThan(most)
  }
})

test('original and prepared are heard by the id of the sound, with what makes them equally loud', async () => {
  const shown = await workshop.core['sounds:prepared']({ soundId: sounds.get('hum.wav')!, boardId }, control)
  expect(shown).toMatchObject({ path: 'hum.wav', isLoop: true, isPrepared: true, role: 'hum' })
  expect(shown.steps.map(({ step }) => step)).toContain('sample-rate')
  const { originalGainDb, preparedGainDb } = shown.matchedLoudness!
  expect(Math.max(originalGainDb, preparedGainDb)).toBe(0)
  expect(shown.before.levelLufs! + originalGainDb).toBeCloseTo(shown.after!.levelLufs! + preparedGainDb, 9)
  expect(await bytesOf('hum.wav')).toEqual(new Uint8Array(readFileSync(join(folder, 'fonts/Ember/hum.wav'))))
  const prepared = await bytesOf('hum.wav', boardId)
  expect(prepared.length).toBe(shown.after!.sizeBytes)
  expect(new DataView(prepared.buffer).getUint32(24, true)).toBe(44_100)
})

test('a sound that became one channel is heard from two loudspeakers, and its loudness is matched to that', async () => {
  const shown = await workshop.core['sounds:prepared'](
    { soundId: sounds.get('ignite-01.wav')!, boardId },
    control,
  )
  expect([shown.before.channels, shown.after?.channels]).toEqual([2, 1])
  const { originalGainDb, preparedGainDb } = shown.matchedLoudness!
  expect(Math.max(originalGainDb, preparedGainDb)).toBe(0)
  const heardPrepared = shown.after!.levelLufs! + 10 * Math.log10(2)
  expect(shown.before.levelLufs! + originalGainDb).toBeCloseTo(heardPrepared + preparedGainDb, 9)
})

test('what was not prepared for a board is told apart from what is right as it is', async () => {
  const soundId = sounds.get('hum.wav')!
  const other = await workshop.core['sounds:prepared']({ soundId, boardId: 'bench-32' }, control)
  expect(other).toMatchObject({ isPrepared: false, after: null, matchedLoudness: null, steps: [] })
  await expect(workshop.openSound(soundId, 'bench-32')).rejects.toMatchObject({ code: 'sound/not-prepared' })
  await expect(workshop.openSound(soundId, 'no-such')).rejects.toMatchObject({ code: 'board/unknown' })
  await expect(
    workshop.core['sounds:prepared']({ soundId: 'no-such', boardId }, control),
  ).rejects.toMatchObject({ code: 'sound/unknown' })
})

test('words on steps are kept and forgotten one by one, and the next run follows them', async () => {
  const change = (request: object) =>
    workshop.core['prepare:choose']({ boardId, editionIds, ...request }, control)
  const editionId = editionIds[0]
  await change({
    choices: [
      { step: 'gain', value: -3, role: 'clash' },
      { step: 'trim', value: null },
      { step: 'sample-rate', value: null, path: 'swing-01.wav' },
    ],
  })
  const { choices } = await change({ forget: [{ step: 'trim' }] })
  expect(choices).toEqual([
    { editionId, step: 'sample-rate', value: null, role: null, path: 'swing-01.wav' },
    { editionId, step: 'gain', value: -3, role: 'clash', path: null },
  ])
  expect((await workshop.core['prepare:choices']({ boardId, editionIds }, control)).choices).toEqual(choices)
  const report = await workshop.core.prepare({ boardId, editionIds, dryRun: true }, control)
  expect(report.choices).toEqual(choices)
  const stepsOf = (path: string) => rowOf(report, path).steps.map(({ step }) => step)
  expect(stepsOf('swing-01.wav')).not.toContain('sample-rate')
  expect(rowOf(report, 'clash-01.wav').steps).toContainEqual(
    expect.objectContaining({ step: 'gain', numbers: { gainDb: -3 } }),
  )
  await expect(change({ choices: [{ step: 'gain', value: 99 }] })).rejects.toMatchObject({
    code: 'prepare/choice-out-of-range',
  })
  expect((await change({ forgetAll: true })).choices).toEqual([])
})

test('a card is judged by what would go on it, a font by itself as it came', async () => {
  await workshop.core.prepare({ boardId, editionIds }, control)
  const verdictOf = async (asPrepared: boolean) => {
    const { fonts } = await workshop.core.check({ boardId, editionIds, asPrepared }, control)
    return fonts[0]?.verdict.word
  }
  expect(await verdictOf(false)).toBe('fixable')
  expect(await verdictOf(true)).toBe('ready')
  const library = await workshop.core.check({ boardId, asPrepared: true }, control)
  expect(library.fonts.map(({ verdict }) => verdict.word)).toEqual(['ready'])
})

test('prepared bytes that were changed in the store are not played, at any length', async () => {
  const soundId = sounds.get('clash-01.wav')!
  await workshop.core.prepare({ boardId, editionIds }, control)
  const { after } = await workshop.core['sounds:prepared']({ soundId, boardId }, control)
  const kept = join(folder, 'workshop', 'store', after!.sha256.slice(0, 2), after!.sha256)
  const bytes = readFileSync(kept)
  expect((await workshop.openSound(soundId, boardId)).sizeBytes).toBe(bytes.length)
  bytes[bytes.length - 1]! ^= 1
  chmodSync(kept, 0o600)
  writeFileSync(kept, bytes)
  await expect(workshop.openSound(soundId, boardId)).rejects.toMatchObject({ code: 'store/damaged' })
})

test('what was prepared has an outline of its own', async () => {
  const soundId = sounds.get('hum.wav')!
  const original = await workshop.core['sounds:waveform']({ soundId }, control)
  const prepared = await workshop.core['sounds:waveform']({ soundId, preparedForBoardId: boardId }, control)
  expect(original.waveform!.frames).toBe(2 * RATE)
  expect(prepared.waveform!.frames).toBe(2 * 44_100)
  expect(Math.max(...prepared.waveform!.highest)).toBeGreaterThan(Math.max(...original.waveform!.highest))
  const none = await workshop.core['sounds:waveform']({ soundId, preparedForBoardId: 'bench-32' }, control)
  expect(none.waveform).toBeNull()
})
