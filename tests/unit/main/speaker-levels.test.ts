import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { openWorkshop, type Workshop } from '../../../main/workshop.ts'
import { handMadeZip } from '../../support/hand-made-zip.ts'
import { plainBuild } from '../../support/plain-build.ts'
import { sine } from '../../support/signals.ts'
import { temporaryFolder, writeFiles } from '../../support/temporary-folder.ts'
import { wavFile } from '../../support/wav-bytes.ts'

const control = { onProgress: () => undefined, cancel: new AbortController().signal }
/** A hum that is -22 LUFS or so without a speaker, whatever its tone. */
const hum = (hz: number, amplitude = 0.1125) =>
  wavFile([sine(44100, hz, 88200, amplitude)], { rateHz: 44100 })

let folder: string
let workshop: Workshop
beforeEach(async () => {
  folder = temporaryFolder()
  writeFiles(folder, {
    'fonts/Low/hum.wav': hum(60),
    'fonts/Mid/hum.wav': hum(1000),
    'fonts/packed.zip': handMadeZip([{ name: 'Packed/hum.wav', data: hum(90) }]),
  })
  workshop = await openWorkshop({ folder: join(folder, 'workshop') })
  await workshop.core.scan({ paths: [join(folder, 'fonts')] }, control)
})
afterEach(() => workshop.close())

/** Findings about loudness, by font. */
async function levelFindings(): Promise<Record<string, string | undefined>> {
  const { fonts } = await workshop.core.check({ boardId: 'bench-44' }, control)
  return Object.fromEntries(
    fonts.map(({ font, findings }) => [font, findings.find(({ rule }) => rule === 'level')?.message]),
  )
}

async function counted(): Promise<Record<string, number | undefined>> {
  const { fonts } = await workshop.core['fonts:list']({ boardId: 'bench-44' }, control)
  return Object.fromEntries(fonts.map(({ font, verdict }) => [font.name, verdict?.warningCount]))
}

test('hums are judged as the usual speaker gives them, in folders and archives, once it is known', async () => {
  const without = await levelFindings()
  expect(without.Mid).toBeUndefined()

  const told = await workshop.core['workshop:change']({ speakerLowLimitHz: 300 }, control)
  expect(told.speakerLowLimitHz).toBe(300)
  const through = await levelFindings()
  expect(through.Mid).toBeUndefined()
  // 10 log10(1 + (300/60)^4) = 28.0 dB are lost of the low one, 10 log10(1 + (300/90)^4) = 20.9 dB of the other.
  expect(through.Low).toMatch(/^Its level is -5\d(\.\d)? LUFS as heard through a speaker from 300 Hz/)
  expect(through.packed).toMatch(/^Its level is -4\d(\.\d)? LUFS as heard through a speaker from 300 Hz/)
})

test('what was heard is kept, and needs the file no more; what nobody heard is judged without', async () => {
  await workshop.core['workshop:change']({ speakerLowLimitHz: 300 }, control)
  const before = await levelFindings()
  rmSync(join(folder, 'fonts'), { recursive: true })
  expect(await levelFindings()).toEqual(before)
  await workshop.core['workshop:change']({ speakerLowLimitHz: 200 }, control)
  expect((await levelFindings()).Low).toContain('without the speaker, through which it could not be heard')
})

test('an opinion that was formed before the levels were known is formed anew', async () => {
  await workshop.core['workshop:change']({ speakerLowLimitHz: 300 }, control)
  const before = await counted()
  const found = await levelFindings()
  expect(found.Low).toContain('as heard through a speaker')
  const { fonts } = await workshop.core.check({ boardId: 'bench-44' }, control)
  const after = await counted()
  for (const { font, verdict } of fonts) expect(after[font], font).toBe(verdict.warningCount)
  expect(before.Mid).toBe(after.Mid)
})

test('a file that is another by now is not heard in place of the sound that was scanned', async () => {
  writeFiles(folder, { 'fonts/Low/hum.wav': hum(1000, 0.05) })
  await workshop.core['workshop:change']({ speakerLowLimitHz: 300 }, control)
  expect((await levelFindings()).Low).toContain('without the speaker, through which it could not be heard')
})

test('where nothing can be unpacked, a sound in an archive is judged without the speaker, and the rest through it', async () => {
  vi.stubEnv('TMPDIR', join(folder, 'no-such-folder'))
  try {
    await workshop.core['workshop:change']({ speakerLowLimitHz: 300 }, control)
    const found = await levelFindings()
    expect(found.Low).toContain('as heard through a speaker from 300 Hz')
    expect(found.packed ?? '').not.toContain('as heard through')
  } finally {
    vi.unstubAllEnvs()
  }
})

test('the speaker of a build goes before the usual one, and fonts on its card are compared through it', async () => {
  await workshop.core['workshop:change']({ speakerLowLimitHz: 30 }, control)
  const { fonts } = await workshop.core['fonts:list']({}, control)
  await workshop.core['builds:add'](
    plainBuild({ speakerLowLimitHz: 300, fontEditionIds: fonts.map(({ id }) => id) }),
    control,
  )
  const { cardFindings } = await workshop.core.check({ buildCode: 'EX-1' }, control)
  const spread = cardFindings.find(({ rule }) => rule === 'card-level-spread')
  expect(spread?.message).toContain('as heard through a speaker from 300 Hz')
  expect(spread?.measured).toBeGreaterThan(20)
})

test('the speaker is forgotten again, and what else the workshop keeps of itself stays', async () => {
  await workshop.core['workshop:change']({ who: 'Ida', speakerLowLimitHz: 300 }, control)
  expect(await workshop.core['workshop:change']({ speakerLowLimitHz: null }, control)).toEqual({
    who: 'Ida',
    speakerLowLimitHz: null,
  })
  expect((await workshop.core['workshop:status']({}, control)).speakerLowLimitHz).toBeNull()
})
