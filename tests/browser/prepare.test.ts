import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture, openPage, type Scheme } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'
import { jobCount } from '../support/door-jobs.ts'
import { fixtureCore } from '../support/fixture-core.ts'
import { focusedName, focusShows, tabTo } from '../support/keyboard.ts'
import { serveWindow } from '../support/served-window.ts'
import { noise } from '../support/signals.ts'
import { writeFiles } from '../support/temporary-folder.ts'
import { wavFile } from '../support/wav-bytes.ts'
import { Cancelled } from '../../app/errors/app-error.ts'

// Preparing in the window: tried dry, changed step by step, made, written as folders, put on a card.

const demo = demoWindow()
const BOARD = 'bench-32'

/** The page of preparing, for another board than the one on the bench. */
async function prepareAt(place: string, scheme?: Scheme) {
  const opened = await demo.at(place, scheme)
  await opened.page.getByRole('combobox', { name: 'For the board' }).click()
  await opened.page.getByRole('option', { name: 'Bench 32' }).click()
  return opened
}

const dryRun = (page: Page) => page.getByRole('button', { name: 'Dry run', exact: true }).click()
const rowOf = (page: Page, path: string) =>
  page.getByRole('row').filter({ has: page.getByRole('link', { name: path, exact: true }) })

describe('a dry run of one font', () => {
  test.each(['light', 'dark'] as const)(
    'tells of each sound what is wrong, what will be done and why, and what comes of it, %s',
    async (scheme) => {
      const editionId = await demo.fontId('Thornwick')
      const { page, complaints } = await demo.at(`/fonts/${editionId}`, scheme)
      await page.getByRole('link', { name: 'Prepare it for a board' }).click()
      await page.getByRole('heading', { level: 1, name: /^Prepare: Thornwick/ }).waitFor()
      await page.getByRole('combobox', { name: 'For the board' }).click()
      await page.getByRole('option', { name: 'Bench 32' }).click()
      await dryRun(page)
      await page.getByRole('region', { name: 'Dry run' }).getByText('Dry run for Bench 32').waitFor()
      const request = { boardId: BOARD, editionIds: [editionId], dryRun: true }
      const [font] = (await demo.workshop.core.prepare(request, control)).fonts
      for (const { path, steps, wrong, before, foreseen } of font!.sounds) {
        const text = await rowOf(page, path).innerText()
        for (const message of wrong) expect(text).toContain(message)
        for (const { reason, inWords } of steps.filter((step) => step.inWords !== '')) {
          expect(text.toLowerCase()).toContain(inWords.toLowerCase())
          expect(text).toContain(reason)
        }
        expect(text.replace(/\s+/g, ' ')).toContain(
          `${before.sampleRateHz} → becomes ${foreseen!.sampleRateHz} Hz`,
        )
      }
      expect(await page.getByRole('img', { name: /^Loudness of 1 font/ }).count()).toBe(1)
      await keepPicture(page, `prepare-dry-run-${scheme}`)
      await page.getByRole('table').scrollIntoViewIfNeeded()
      await keepPicture(page, `prepare-dry-run-table-${scheme}`)
      await expectNoViolation(page)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('is found again after looking elsewhere and after a reload', async () => {
    const place = `/fonts/prepare/font/${await demo.fontId('Ninth Anvil')}`
    const { page } = await prepareAt(place)
    await dryRun(page)
    const told = page.getByRole('region', { name: 'Dry run' })
    await told.waitFor()
    await page.getByRole('link', { name: 'Boards', exact: true }).click()
    await page.goBack()
    await told.waitFor()
    await page.reload()
    await told.waitFor()
    const before = await jobCount(page)
    await dryRun(page)
    await page.getByRole('region', { name: 'Under way' }).waitFor({ state: 'detached' })
    await told.waitFor()
    await eventually(() => jobCount(page)).toBe(before)
    await page.context().close()
  })
})

describe('one’s own word on a step', () => {
  test.each(['light', 'dark'] as const)(
    'is kept for a sound, a role or the font, followed by the next dry run, and taken back, %s',
    async (scheme) => {
      const editionId = await demo.fontId('Quiet Foundry')
      const choices = async () =>
        (await demo.workshop.core['prepare:choices']({ boardId: BOARD, editionIds: [editionId] }, control))
          .choices
      const { page, complaints } = await prepareAt(`/fonts/prepare/font/${editionId}`, scheme)
      await dryRun(page)
      const clash = rowOf(page, 'clash-01.wav')
      await clash.waitFor()

      await page.getByRole('button', { name: 'Change a step of clash-01.wav' }).click()
      const form = page.getByRole('form', { name: 'Change a step of clash-01.wav' })
      await form.getByRole('combobox', { name: 'Step' }).click()
      await page.getByRole('option', { name: 'Gain' }).click()
      await form.getByRole('combobox', { name: 'What' }).click()
      await page.getByRole('option', { name: 'Set its number' }).click()
      expect(await form.getByRole('button', { name: 'Keep it' }).isDisabled()).toBe(true)
      await form.getByRole('textbox', { name: /^Number, in dB/ }).fill('-3')
      await form.getByRole('combobox', { name: 'For' }).click()
      await page.getByRole('option', { name: 'All clash sounds' }).click()
      await form.scrollIntoViewIfNeeded()
      await keepPicture(page, `prepare-change-step-${scheme}`)
      await expectNoViolation(page)
      await form.getByRole('button', { name: 'Keep it' }).click()
      await clash.getByText('Your word for all clash sounds: Gain set to −3 dB.').waitFor()
      await eventually(() => clash.innerText()).toContain('Gain: −3.0 dB (your own word)')
      expect(await choices()).toEqual([{ editionId, step: 'gain', value: -3, role: 'clash', path: null }])

      await page.getByRole('button', { name: 'Change a step of hum.wav' }).click()
      const hum = page.getByRole('form', { name: 'Change a step of hum.wav' })
      await hum.getByRole('combobox', { name: 'Step' }).click()
      await page.getByRole('option', { name: 'Sample rate' }).click()
      await hum.getByRole('button', { name: 'Keep it' }).click()
      await eventually(() => rowOf(page, 'hum.wav').innerText()).not.toContain('Sample rate: ')

      const kept = page.getByRole('region', { name: 'Your own words on steps' })
      await kept.scrollIntoViewIfNeeded()
      await keepPicture(page, `prepare-own-words-${scheme}`)
      await kept.getByRole('button', { name: /^Take back: .*Sample rate left out$/ }).click()
      await eventually(() => rowOf(page, 'hum.wav').innerText()).toContain('Sample rate: ')
      expect(await choices()).toHaveLength(1)
      await kept.getByRole('button', { name: /^Take back/ }).click()
      await kept.waitFor({ state: 'detached' })
      expect(await choices()).toEqual([])
      await eventually(() => clash.innerText()).not.toContain('your own word')
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('is told by the keyboard alone, which goes on where it was', async () => {
    const editionId = await demo.fontId('Thornwick')
    const { page } = await demo.at(`/fonts/prepare/font/${editionId}`)
    await page.getByRole('button', { name: 'Dry run', exact: true }).waitFor()
    await tabTo(page, /^Dry run$/)
    expect(await focusShows(page)).toBe(true)
    await page.keyboard.press('Enter')
    await page.getByRole('table').waitFor()
    await tabTo(page, /^Change a step of music\.wav$/)
    await page.keyboard.press('Enter')
    await page.getByRole('form', { name: 'Change a step of music.wav' }).waitFor()
    await tabTo(page, /^Step$/)
    await tabTo(page, /^Keep it$/)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'Your own words on steps' }).waitFor()
    expect(await focusedName(page)).toBe('Change a step of music.wav')
    await tabTo(page, /^Take back: Thornwick/)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'Your own words on steps' }).waitFor({ state: 'detached' })
    await page.context().close()
  })

  test('that cannot be is refused by the core, in a sentence beside the field', async () => {
    const editionId = await demo.fontId('Quiet Foundry')
    const { page } = await prepareAt(`/fonts/prepare/font/${editionId}`)
    await dryRun(page)
    await page.getByRole('button', { name: 'Change a step of clash-01.wav' }).click()
    const form = page.getByRole('form', { name: 'Change a step of clash-01.wav' })
    await form.getByRole('combobox', { name: 'Step' }).click()
    await page.getByRole('option', { name: 'Gain' }).click()
    await form.getByRole('combobox', { name: 'What' }).click()
    await page.getByRole('option', { name: 'Set its number' }).click()
    await form.getByRole('textbox', { name: /^Number, in dB/ }).fill('400')
    await form.getByRole('textbox', { name: /^Number, in dB/ }).press('Enter')
    await form.getByRole('alert').getByText('400 dB is out of range.').waitFor()
    await form.getByRole('button', { name: 'Leave it' }).click()
    await form.waitFor({ state: 'detached' })
    await page.context().close()
  })
})

describe('what no step mends', () => {
  test.each(['light', 'dark'] as const)(
    'is never told as right, before or after a run, %s',
    async (scheme) => {
      const folder = join(demo.base, `odd-${scheme}`)
      const rateHz = 48_000
      writeFiles(folder, {
        'Unread/hum.wav': new Uint8Array(20),
        'Unread/clash-01.wav': wavFile([noise(1, rateHz, 0.2)], { rateHz }),
        'Unread/qq-a.wav': wavFile([noise(2, rateHz, 0.2)], { rateHz }),
      })
      await demo.workshop.core.scan({ paths: [folder] }, control)
      const { fonts } = await demo.workshop.core['fonts:list']({}, control)
      const font = fonts.find(({ places }) => places.some(({ path }) => path.startsWith(folder)))!
      const { page } = await prepareAt(`/fonts/prepare/font/${font.id}`, scheme)
      await dryRun(page)
      const unread = rowOf(page, 'hum.wav')
      await unread.getByText('left as it is').waitFor()
      await page.getByText('Role not known: 1 sound').waitFor()
      await page.getByRole('button', { name: 'Prepare the sounds' }).click()
      await page
        .getByRole('region', { name: 'What was prepared' })
        .getByText('Something is still wrong')
        .waitFor()
      await page.getByText(/^Still so: \d+ findings$/).waitFor()
      expect(await page.getByText(/needs nothing|right as they are|Nothing is wrong any more/).count()).toBe(
        0,
      )
      await page.getByText(/^Still so/).scrollIntoViewIfNeeded()
      await keepPicture(page, `prepared-still-wrong-${scheme}`)
      await expectNoViolation(page)
      await page.context().close()
    },
  )
})

describe('several fonts', () => {
  const fonts = ['Harbour Bell', 'Ninth Anvil', 'Quiet Foundry']

  test.each(['light', 'dark'] as const)(
    'are tried, made even, written as folders with a page about them, and told font by font, %s',
    async (scheme) => {
      const { page, complaints } = await demo.at('/fonts', scheme)
      for (const font of fonts)
        await page.getByRole('checkbox', { name: new RegExp(`^Put ${font} .*on the card$`) }).check()
      await page.getByRole('link', { name: 'Prepare 3 fonts' }).click()
      await page.getByRole('combobox', { name: 'For the board' }).click()
      await page.getByRole('option', { name: 'Bench 32' }).click()
      const into = join(demo.base, `prepared-${scheme}`)
      const about = join(demo.base, `prepared-${scheme}.html`)
      await page.getByRole('textbox', { name: /^Also write each font as a folder/ }).fill(into)
      await page.getByRole('textbox', { name: /^Also write a page about it/ }).fill(about)
      await page.getByRole('button', { name: 'Prepare the sounds' }).click()
      const told = page.getByRole('region', { name: 'What was prepared' })
      await told.getByText('Prepared for Bench 32').waitFor({ timeout: 120_000 })
      await page.getByRole('region', { name: 'Jobs' }).getByText('Prepare', { exact: true }).waitFor()
      await told
        .getByText(/^Hums differ by \d+\.\d LU, and now by 0\.\d LU\. The board allows 1 LU\.$/)
        .waitFor()
      const picture = told.getByRole('img', { name: /^Loudness of 3 fonts before and after/ })
      expect(await picture.locator('.evenness-disc').count()).toBe(3)
      const discs = await picture
        .locator('.evenness-disc')
        .evaluateAll((nodes) => nodes.map((node) => Number(node.getAttribute('cx'))))
      expect(Math.max(...discs) - Math.min(...discs)).toBeLessThan(25)
      await keepPicture(page, `prepared-${scheme}`)
      await told.locator('summary').filter({ hasText: 'Quiet Foundry' }).click()
      await told.getByText('Nothing is wrong any more for this board.').first().waitFor()
      await told.getByRole('button', { name: 'Hear A and B of hum.wav' }).click()
      await told.getByRole('button', { name: 'B, as prepared' }).click()
      await told.getByText('Playing B, as prepared').waitFor()
      await told.getByRole('button', { name: 'Hear A and B of clash-01.wav' }).click()
      await told
        .getByRole('group', { name: 'Player' })
        .first()
        .getByRole('button', { name: 'A, the original' })
        .click()
      await eventually(() =>
        told.getByRole('button', { name: 'B, as prepared' }).last().getAttribute('aria-pressed'),
      ).toBe('false')
      await told.getByRole('button', { name: 'Hear A and B of hum.wav' }).scrollIntoViewIfNeeded()
      await keepPicture(page, `prepared-heard-${scheme}`)
      await expectNoViolation(page)
      await told.getByRole('link', { name: 'hum.wav', exact: true }).click()
      await page.getByRole('heading', { name: 'Prepared for Bench 32' }).waitFor()
      await page.getByRole('button', { name: 'B, as prepared' }).waitFor()
      await page.goBack()
      await told.getByText('Prepared for Bench 32').waitFor()
      expect(readdirSync(into)).toEqual(expect.arrayContaining(['00_HARBOUR_B']))
      expect(existsSync(join(into, '00_HARBOUR_B', 'HUM.WAV'))).toBe(true)
      expect(readFileSync(about, 'utf8')).toContain('<svg')
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('where another folder of that name lies there, nothing is overwritten and it is said so', async () => {
    const into = join(demo.base, 'prepared-light')
    const own = join(into, '00_HARBOUR_B', 'NOTES.TXT')
    writeFileSync(own, 'mine')
    const { page } = await demo.at('/fonts')
    await page.getByRole('checkbox', { name: /^Put Harbour Bell .*on the card$/ }).check()
    await page.getByRole('link', { name: 'Prepare 1 font' }).click()
    await page.getByRole('combobox', { name: 'For the board' }).click()
    await page.getByRole('option', { name: 'Bench 32' }).click()
    await page.getByRole('textbox', { name: /^Also write each font as a folder/ }).fill(into)
    await page.getByRole('button', { name: 'Prepare the sounds' }).click()
    await page
      .getByRole('alert')
      .getByText(/nothing is overwritten/)
      .waitFor()
    expect(readFileSync(own, 'utf8')).toBe('mine')
    await page.context().close()
  })

  test('of a build are prepared for its board and as heard through its speaker', async () => {
    const { builds } = await demo.workshop.core['builds:list']({}, control)
    const build = builds.find(
      ({ speakerLowLimitHz, fontEditionIds }) => speakerLowLimitHz !== null && fontEditionIds.length > 0,
    )!
    const { page } = await demo.at(`/builds/${build.id}`)
    await page.getByRole('link', { name: 'Prepare its fonts' }).click()
    await page.getByRole('heading', { level: 1, name: `Prepare: Build ${build.code}` }).waitFor()
    await dryRun(page)
    const told = page.getByRole('region', { name: 'Dry run' })
    await told
      .getByText(`Hums are measured as heard through a speaker from ${build.speakerLowLimitHz} Hz.`)
      .waitFor({ timeout: 60_000 })
    await page.getByRole('combobox', { name: 'Heard through' }).click()
    await page.getByRole('option', { name: 'No speaker' }).click()
    await told.waitFor({ state: 'detached' })
    await dryRun(page)
    await told
      .getByText('Hums are measured without a speaker, since none is known.')
      .waitFor({ timeout: 60_000 })
    await page.context().close()
  })
})

describe('the usual speaker of the workshop', () => {
  test('is told where it is needed, and then counts by itself', async () => {
    const usual = async () => (await demo.workshop.core['workshop:status']({}, control)).speakerLowLimitHz
    const { page } = await prepareAt(`/fonts/prepare/font/${await demo.fontId('Thornwick')}`)
    const heard = page.getByRole('combobox', { name: 'Heard through' })
    expect(await heard.inputValue()).toBe("The workshop's usual (none told)")
    await heard.click()
    await page.getByRole('option', { name: 'Another speaker' }).click()
    expect(await page.getByRole('button', { name: 'Dry run', exact: true }).isDisabled()).toBe(true)
    await page.getByRole('textbox', { name: 'Its lowest frequency, in Hz' }).fill('180')
    await page.getByRole('button', { name: "Make it the workshop's usual" }).click()
    await eventually(() => heard.inputValue()).toBe("The workshop's usual, from 180 Hz")
    expect(await usual()).toBe(180)
    await dryRun(page)
    await page.getByText('Hums are measured as heard through a speaker from 180 Hz.').waitFor()
    await heard.click()
    await page.getByRole('option', { name: 'No speaker' }).click()
    await page.getByRole('button', { name: "Forget the workshop's usual speaker" }).click()
    await eventually(usual).toBeNull()
    await page.context().close()
  })
})

describe('the way to a card', () => {
  test('leads through preparing where that is ticked, and what was prepared counts from then on', async () => {
    const { page } = await demo.at('/fonts')
    await page.getByRole('checkbox', { name: /^Put Ember Loom .*on the card$/ }).check()
    await page.getByRole('combobox', { name: 'On the bench' }).click()
    await page.getByRole('option', { name: 'Bench 32' }).click()
    await page.getByRole('link', { name: /^Make a card with/ }).click()
    const found = page.getByRole('region', { name: 'What was found' })
    await found.getByText(/^Not ready for the board/).waitFor()
    await page.getByRole('combobox', { name: 'Size of the card' }).click()
    await page.getByRole('option', { name: 'As its content needs' }).click()
    await page.getByRole('checkbox', { name: 'Prepare what can be mended on the way' }).check()
    await page.getByRole('button', { name: 'Make the image' }).click()
    await page.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 120_000 })
    await found.getByText('Nothing stands in the way.').waitFor()
    await page.context().close()
  })
})

describe('a run that takes long', () => {
  test.each(['light', 'dark'] as const)(
    'shows its count and time left, and is cancelled, %s',
    async (scheme) => {
      const { core } = fixtureCore(3)
      const own = await serveWindow({
        ...core,
        'prepare:choices': () => Promise.resolve({ board: 'bench-44', choices: [] }),
        prepare(_request, { onProgress, cancel }) {
          onProgress({ phase: 'preparing', done: 12, total: 40, unit: 'files', current: 'hum.wav' })
          return new Promise((_, reject) => cancel.addEventListener('abort', () => reject(new Cancelled())))
        },
      })
      const { page } = await openPage(demo.browser, own.url, scheme)
      await page.goto(`${new URL(own.url).origin}/#/fonts/prepare/font/edition-1`)
      await page.getByRole('button', { name: 'Prepare the sounds' }).click()
      const under = page.getByRole('region', { name: 'Under way' })
      await under.getByText(/^preparing · 12 of 40 files/).waitFor()
      expect(await under.getByRole('progressbar').getAttribute('aria-valuenow')).toBe('30')
      await page.getByRole('region', { name: 'Jobs' }).getByText('12 of 40 files').waitFor()
      await keepPicture(page, `preparing-${scheme}`)
      await expectNoViolation(page)
      await under.getByRole('button', { name: 'Cancel' }).click()
      await page.getByText('Nothing was left half-made; start again whenever you like.').waitFor()
      await page.context().close()
      await own.close()
    },
  )
})
