import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { loadInPage } from '../support/bundled-in-page.ts'
import { control, demoWindow } from '../support/demo-window.ts'
import { noise } from '../support/signals.ts'
import { wavFile } from '../support/wav-bytes.ts'

// Original and prepared, heard: what the window's own player puts out, sample by sample, in a real browser.

const demo = demoWindow()
const BOARD = 'bench-32'
/** A browser scales positive and negative samples alike, or by one step of 16 bits less. */
const ONE_STEP = 1.01 / 32_768
let page: Page

beforeAll(async () => {
  const editionIds = [await demo.fontId('Quiet Foundry')]
  await demo.workshop.core.prepare({ boardId: BOARD, editionIds }, control)
  page = (await demo.at('/boards')).page
  await loadInPage(page, 'renderer/client/play-take.ts', 'takes')
})
afterAll(() => page?.context().close())

interface Rendered {
  readonly frames: number
  readonly channels: readonly (readonly number[])[]
}

interface ToRender {
  readonly wav: readonly number[]
  readonly rateHz: number
  readonly gainDb: number
  readonly isLoop: boolean
  readonly fromSeconds: number
  readonly outFrames: number
}

/** What the player puts out for a file, by an offline context of its own rate. */
function rendered(wanted: ToRender): Promise<Rendered> {
  return page.evaluate(async ({ wav, rateHz, gainDb, isLoop, fromSeconds, outFrames }) => {
    const { takes } = globalThis as unknown as { takes: typeof import('../../renderer/client/play-take.ts') }
    const buffer = await takes.decodeAtOwnRate(new Uint8Array(wav).buffer, rateHz)
    const context = new OfflineAudioContext(2, outFrames, rateHz)
    takes.playTake(context.destination, { buffer, gainDb, isLoop }, { fromSeconds, atSeconds: 0 })
    const out = await context.startRendering()
    return {
      frames: buffer.length,
      channels: [0, 1].map((channel) => Array.from(out.getChannelData(channel))),
    }
  }, wanted)
}

/** Mean power of both channels of what the player puts out for a sound that the door serves, in dB. */
function powerOf(
  address: string,
  rateHz: number,
  gainDb: number,
): Promise<{ readonly powerDb: number; readonly highest: number }> {
  return page.evaluate(
    async (wanted) => {
      const { takes } = globalThis as unknown as {
        takes: typeof import('../../renderer/client/play-take.ts')
      }
      const bytes = await (await fetch(wanted.address)).arrayBuffer()
      const buffer = await takes.decodeAtOwnRate(bytes, wanted.rateHz)
      const context = new OfflineAudioContext(2, buffer.length, wanted.rateHz)
      const beginning = { fromSeconds: 0, atSeconds: 0 }
      takes.playTake(context.destination, { buffer, gainDb: wanted.gainDb, isLoop: false }, beginning)
      const out = await context.startRendering()
      let power = 0
      let highest = 0
      for (const channel of [0, 1]) {
        for (const sample of out.getChannelData(channel)) {
          power += sample * sample
          highest = Math.max(highest, Math.abs(sample))
        }
      }
      return { powerDb: 10 * Math.log10(power / buffer.length), highest }
    },
    { address, rateHz, gainDb },
  )
}

/** A file of noise, in which no sample is like its neighbour. */
function noiseFile(seed: number, frames: number, rateHz: number): { wav: number[]; samples: number[] } {
  const bytes = wavFile([noise(seed, frames, 0.5)], { rateHz })
  const view = new DataView(bytes.buffer, bytes.byteOffset)
  const samples = Array.from({ length: frames }, (_, frame) => view.getInt16(44 + frame * 2, true) / 32_768)
  return { wav: [...bytes], samples }
}

function largestDifference(a: readonly number[], b: readonly number[]): number {
  return a.reduce((most, sample, index) => Math.max(most, Math.abs(sample - (b[index] ?? NaN))), 0)
}

describe('a loop', () => {
  test.each([8000, 22_050, 32_000, 44_100, 48_000, 96_000])(
    'of %i Hz goes round without a sample too many or too few',
    async (rateHz) => {
      const frames = 4411
      const { wav, samples } = noiseFile(rateHz, frames, rateHz)
      const out = await rendered({
        wav,
        rateHz,
        gainDb: 0,
        isLoop: true,
        fromSeconds: 0,
        outFrames: 5 * frames,
      })
      expect(out.frames).toBe(frames)
      const expected = Array.from({ length: 5 * frames }, (_, frame) => samples[frame % frames] ?? NaN)
      expect(largestDifference(out.channels[0]!, expected)).toBeLessThan(ONE_STEP)
      expect(largestDifference(out.channels[1]!, expected)).toBeLessThan(ONE_STEP)
      // The same comparison sees one sample of silence between two rounds.
      const gapped = Array.from({ length: 5 * frames }, (_, frame) => samples[frame % (frames + 1)] ?? 0)
      expect(largestDifference(out.channels[0]!, gapped)).toBeGreaterThan(0.1)
    },
  )

  test('taken up in its middle goes on from there, and round', async () => {
    const rateHz = 32_000
    const frames = 6400
    const { wav, samples } = noiseFile(7, frames, rateHz)
    const out = await rendered({
      wav,
      rateHz,
      gainDb: 0,
      isLoop: true,
      fromSeconds: 0.1,
      outFrames: 3 * frames,
    })
    const expected = Array.from({ length: 3 * frames }, (_, frame) => samples[(frame + 3200) % frames] ?? NaN)
    const ramp = 300
    expect(largestDifference(out.channels[0]!.slice(ramp), expected.slice(ramp))).toBeLessThan(1e-4)
    expect(Math.abs(out.channels[0]![0]!)).toBeLessThan(0.01)
  })
})

describe('gains', () => {
  test('a sound that is no loop ends, and is never raised', async () => {
    const { wav, samples } = noiseFile(3, 2000, 44_100)
    const asIs = await rendered({
      wav,
      rateHz: 44_100,
      gainDb: 6,
      isLoop: false,
      fromSeconds: 0,
      outFrames: 3000,
    })
    expect(largestDifference(asIs.channels[0]!.slice(0, 2000), samples)).toBeLessThan(ONE_STEP)
    expect(Math.max(...asIs.channels[0]!.slice(2000).map(Math.abs))).toBe(0)
    const softer = await rendered({
      wav,
      rateHz: 44_100,
      gainDb: -6,
      isLoop: false,
      fromSeconds: 0,
      outFrames: 3000,
    })
    const expected = samples.map((sample) => sample * 10 ** (-6 / 20))
    expect(largestDifference(softer.channels[0]!.slice(0, 2000), expected)).toBeLessThan(ONE_STEP)
  })

  test('original and prepared of a real font come out equally loud, and neither above its own level', async () => {
    const editionId = await demo.fontId('Quiet Foundry')
    const { edition } = await demo.workshop.core['fonts:show']({ editionId }, control)
    const sounds = edition.sounds.filter(({ path }) => path === 'hum.wav' || path.startsWith('clash'))
    expect(sounds.length).toBeGreaterThan(1)
    for (const { id: soundId, path } of sounds) {
      const shown = await demo.workshop.core['sounds:prepared']({ soundId, boardId: BOARD }, control)
      const { originalGainDb, preparedGainDb } = shown.matchedLoudness!
      expect(shown.after!.levelLufs! - shown.before.levelLufs!, path).toBeGreaterThan(3)
      const { before, after } = shown
      const was = await powerOf(`/sound/${soundId}`, before.sampleRateHz!, originalGainDb)
      const preparedAt = `/sound/${soundId}?prepared-for=${BOARD}`
      const is = await powerOf(preparedAt, after!.sampleRateHz!, preparedGainDb)
      const asItIs = await powerOf(preparedAt, after!.sampleRateHz!, 0)
      expect(Math.abs(is.powerDb - was.powerDb), path).toBeLessThan(0.3)
      expect(is.highest, path).toBeLessThan(asItIs.highest)
    }
  })
})

describe('what cannot be decoded', () => {
  test('is told as that', async () => {
    const code = await page.evaluate(async () => {
      const { takes } = globalThis as unknown as {
        takes: typeof import('../../renderer/client/play-take.ts')
      }
      try {
        await takes.decodeAtOwnRate(new Uint8Array(100).buffer, 44_100)
        return 'decoded'
      } catch (thrown) {
        return (thrown as { code: string }).code
      }
    })
    expect(code).toBe('sound/undecodable')
  })
})

/** What the page asked of the browser's own player, call by call. */
interface Begun {
  readonly fromSeconds: number
  readonly isLoop: boolean
  readonly loopEnd: number
  readonly duration: number
  readonly rateHz: number
  readonly contextRateHz: number
  /** Where the sound before it stood in its loop at that moment; null for the first. */
  readonly otherStoodAt: number | null
}

/** Keeps every beginning of a sound in the page, and lets it happen. */
async function watched(opened: Page): Promise<() => Promise<readonly Begun[]>> {
  await opened.evaluate(() => {
    const begun: Begun[] = []
    Object.assign(globalThis, { begun })
    const { start } = AudioBufferSourceNode.prototype
    let standing: (() => number) | null = null
    AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, ...args: number[]) {
      const { context, buffer, loop: isLoop, loopEnd } = this
      const [at = context.currentTime, fromSeconds = 0] = args
      const duration = buffer?.duration ?? 0
      begun.push({
        ...{ fromSeconds, isLoop, loopEnd, duration },
        rateHz: buffer?.sampleRate ?? 0,
        contextRateHz: context.sampleRate,
        otherStoodAt: standing?.() ?? null,
      })
      standing = () => (fromSeconds + context.currentTime - at) % duration
      return start.apply(this, args as [number, number])
    }
  })
  return () => opened.evaluate(() => (globalThis as unknown as { begun: Begun[] }).begun)
}

describe('A and B on the page of a sound', () => {
  test.each(['light', 'dark'] as const)(
    'play at one loudness, change over by key where the loop stands, and end, %s',
    async (scheme) => {
      const editionId = await demo.fontId('Quiet Foundry')
      const { edition } = await demo.workshop.core['fonts:show']({ editionId }, control)
      const hum = edition.sounds.find(({ path }) => path === 'hum.wav')!
      const { page: opened, complaints } = await demo.at(`/fonts/${editionId}/sounds/${hum.id}`, scheme)
      await opened.getByText('It was not prepared for this board').waitFor()
      await opened.getByRole('button', { name: 'Play', exact: true }).waitFor()
      await opened.getByRole('combobox', { name: 'On the bench' }).click()
      await opened.getByRole('option', { name: 'Bench 32' }).click()
      const player = opened.getByRole('group', { name: 'Player' })
      await player.getByText('The first time, play it quietly').waitFor()
      await player.getByText(/^Equally loud here: B is turned down by 14\.\d dB, A is as it is\.$/).waitFor()
      const begun = await watched(opened)
      const original = player.getByRole('button', { name: 'A, the original' })
      const prepared = player.getByRole('button', { name: 'B, as prepared' })

      await original.click()
      await player.getByText('Playing A, the original').waitFor()
      expect(await original.getAttribute('aria-pressed')).toBe('true')
      await eventually(async () => secondsOf(await player.innerText())).toBeGreaterThan(0.3)
      await opened.locator('path.waveform-now').waitFor({ state: 'attached' })
      await keepPicture(opened, `sound-a-and-b-${scheme}`)
      await expectNoViolation(opened)

      await opened.keyboard.press('b')
      await player.getByText('Playing B, as prepared').waitFor()
      expect(await original.getAttribute('aria-pressed')).toBe('false')
      expect(await prepared.getAttribute('aria-pressed')).toBe('true')
      const [first, second] = await begun()
      expect(first).toMatchObject({ fromSeconds: 0, isLoop: true, rateHz: 44_100, contextRateHz: 44_100 })
      expect(second).toMatchObject({ isLoop: true, rateHz: 32_000, contextRateHz: 32_000 })
      expect(Math.abs(second!.fromSeconds - second!.otherStoodAt!)).toBeLessThan(0.05)
      expect(second!.otherStoodAt).toBeGreaterThan(0)
      for (const { loopEnd, duration } of [first!, second!]) expect(loopEnd).toBe(duration)

      await opened.keyboard.press('Escape')
      await opened.locator('path.waveform-now').waitFor({ state: 'detached' })
      expect(await prepared.getAttribute('aria-pressed')).toBe('false')
      expect(complaints).toEqual([])
      await opened.context().close()
    },
  )

  test('letters typed elsewhere on the page begin nothing', async () => {
    const editionId = await demo.fontId('Quiet Foundry')
    const { edition } = await demo.workshop.core['fonts:show']({ editionId }, control)
    const { page: opened } = await demo.at(`/fonts/${editionId}/sounds/${edition.sounds[0]!.id}`)
    await opened.getByRole('button', { name: 'Play', exact: true }).waitFor()
    const asked: string[] = []
    opened.on('request', (request) => {
      if (request.url().includes('/sound/')) asked.push(request.url())
    })
    await opened.keyboard.press('a')
    await opened.evaluate(() => document.activeElement?.tagName)
    expect(asked).toEqual([])
    await opened.getByRole('button', { name: 'Play', exact: true }).focus()
    await opened.keyboard.press('a')
    await eventually(() => asked.length).toBe(1)
    await opened.getByRole('button', { name: 'Stop', exact: true }).waitFor()
    await opened.keyboard.press('s')
    await opened.getByRole('button', { name: 'Play', exact: true }).waitFor()
    await opened.context().close()
  })

  test('a sound whose file is gone says so, and what was prepared is heard all the same', async () => {
    const editionId = await demo.fontId('Ninth Anvil')
    const request = { boardId: BOARD, editionIds: [editionId] }
    const [font] = (await demo.workshop.core.prepare(request, control)).fonts
    const clash = font!.sounds.find(({ role }) => role === 'clash')!
    const { page: opened } = await demo.at(`/fonts/${editionId}/sounds/${clash.soundId}`)
    await opened.getByRole('combobox', { name: 'On the bench' }).click()
    await opened.getByRole('option', { name: 'Bench 32' }).click()
    await opened.getByRole('button', { name: 'B, as prepared' }).waitFor()
    await opened.route(`**/sound/${clash.soundId}`, (route) =>
      route.fulfill({
        status: 404,
        contentType: 'application/json',
        body: JSON.stringify({
          ok: false,
          error: { code: 'sound/gone', what: 'Its file is gone.', where: clash.path, mend: 'Scan again.' },
        }),
      }),
    )
    await opened.getByRole('button', { name: 'A, the original' }).click()
    await opened.getByRole('alert').getByText('Its file is gone.').waitFor()
    const begun = await watched(opened)
    await opened.getByRole('button', { name: 'B, as prepared' }).click()
    await eventually(async () => (await begun()).map(({ rateHz, isLoop }) => ({ rateHz, isLoop }))).toEqual([
      { rateHz: 32_000, isLoop: false },
    ])
    await opened.context().close()
  })
})

function secondsOf(text: string): number {
  return Number(/(\d+\.\d) of \d+\.\d s/.exec(text)?.[1] ?? NaN)
}
