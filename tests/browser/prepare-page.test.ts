import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { Cancelled } from '../../app/errors/app-error.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'
import { focusedName, focusShows, tabTo } from '../support/keyboard.ts'

// The page of preparing as one works with it: left and come back to, narrow, scrolled, by keys, run again.

const demo = demoWindow()

const dryRun = (page: Page) => page.getByRole('button', { name: 'Dry run', exact: true }).click()
const told = (page: Page) => page.getByRole('region', { name: 'Dry run' })
const board = (page: Page) => page.getByRole('combobox', { name: 'For the board' })
const under = (page: Page) => page.getByRole('region', { name: 'Under way' })
const scrolledTo = (page: Page) => page.getByRole('main').evaluate((main) => main.scrollTop)

async function chooseBoard(page: Page, title: string): Promise<void> {
  await board(page).click()
  await page.getByRole('option', { name: title }).click()
}

describe('what was chosen', () => {
  test('stands with what is told of it after a look elsewhere and a reload: board, speaker and places', async () => {
    const { page, complaints } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Ninth Anvil')}`)
    await chooseBoard(page, 'Bench 32')
    await page.getByRole('combobox', { name: 'Heard through' }).click()
    await page.getByRole('option', { name: 'Another speaker' }).click()
    await page.getByRole('textbox', { name: 'Its lowest frequency, in Hz' }).fill('170')
    const into = page.getByRole('textbox', { name: /^Also write each font as a folder/ })
    await into.fill(join(demo.base, 'typed'))
    await dryRun(page)
    await told(page).getByText('Dry run for Bench 32').waitFor()

    const expectAll = async () => {
      await told(page).getByText('Dry run for Bench 32').waitFor()
      expect(await board(page).inputValue()).toBe('Bench 32')
      expect(await page.getByRole('textbox', { name: 'Its lowest frequency, in Hz' }).inputValue()).toBe(
        '170',
      )
      expect(await into.inputValue()).toBe(join(demo.base, 'typed'))
    }
    await page.getByRole('link', { name: 'Boards', exact: true }).click()
    await page.goBack()
    await expectAll()
    await page.reload()
    await expectAll()
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('begins anew with another board on the bench', async () => {
    const { page } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Ninth Anvil')}`)
    await dryRun(page)
    await told(page).getByText('Dry run for Bench 44').waitFor()
    await page.getByRole('combobox', { name: 'On the bench' }).click()
    await page.getByRole('option', { name: 'Bench 48' }).click()
    await eventually(() => board(page).inputValue()).toBe('Bench 48')
    expect(await told(page).count()).toBe(0)
    await page.context().close()
  })

  test('of several fonts: the one that was opened is open, where it was left, with the focus on its link', async () => {
    const { page } = await demo.at('/fonts')
    for (const font of ['Harbour Bell', 'Quiet Foundry'])
      await page.getByRole('checkbox', { name: new RegExp(`^Put ${font} .*on the card$`) }).check()
    await page.getByRole('link', { name: 'Prepare 2 fonts' }).click()
    await chooseBoard(page, 'Bench 32')
    await dryRun(page)
    await told(page).locator('summary').filter({ hasText: 'Quiet Foundry' }).click()
    const link = page.getByRole('link', { name: 'swing-01.wav', exact: true })
    await link.scrollIntoViewIfNeeded()
    const left = await scrolledTo(page)
    expect(left).toBeGreaterThan(200)
    await link.click()
    await page.getByRole('heading', { level: 1, name: 'swing-01.wav' }).waitFor()
    expect(await scrolledTo(page)).toBe(0)
    await page.goBack()
    await eventually(() => scrolledTo(page)).toBe(left)
    await eventually(() => focusedName(page)).toBe('swing-01.wav')

    // The fonts of the card are known after a reload, and with them what was told.
    await page.reload()
    await link.waitFor()
    await page.getByRole('link', { name: 'Back to the card' }).click()
    const order = page.getByRole('list', { name: 'Fonts on the card, in play order' })
    await eventually(() => order.getByRole('listitem').count()).toBe(2)
    await page.context().close()
  })
})

test('where there is nothing to prepare, it is said what can be done, with a way there', async () => {
  const { page, complaints } = await demo.at('/fonts/prepare/card')
  for (const place of ['/fonts/prepare/card', '/fonts/prepare/font/none', '/fonts/prepare/build/none']) {
    await page.goto(demo.addressOf(place))
    await page.getByRole('heading', { level: 1, name: /^Prepare/ }).waitFor()
    const way = page.getByRole('main').getByRole('link', { name: /^the list of/ })
    await way.waitFor()
    await expectNoViolation(page)
    await way.click()
    await page.getByRole('heading', { level: 1, name: /^(Fonts|Builds)$/ }).waitFor()
  }
  expect(complaints).toEqual([])
  await page.context().close()
})

test('a browser that has no room to keep anything prepares all the same', async () => {
  const { page, complaints } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Thornwick')}`)
  await page.getByRole('button', { name: 'Dry run', exact: true }).waitFor()
  await page.evaluate(() => {
    let piece = 'x'.repeat(1_000_000)
    for (let at = 0; piece !== ''; at++) {
      try {
        sessionStorage.setItem(`full ${at}`, piece)
      } catch {
        piece = piece.slice(0, Math.floor(piece.length / 2))
      }
    }
  })
  await chooseBoard(page, 'Bench 32')
  await dryRun(page)
  await told(page).getByText('Dry run for Bench 32').waitFor()
  expect(await page.getByRole('alert').count()).toBe(0)
  expect(complaints).toEqual([])
  await page.context().close()
})

test('back from a sound, the font has its sounds open', async () => {
  const { page } = await demo.at(`/fonts/${await demo.fontId('Glass Meridian')}`)
  await page.getByRole('tab', { name: /^Sounds/ }).click()
  await page.getByRole('link', { name: 'hum/take-1.wav', exact: true }).click()
  await page.getByRole('heading', { level: 1, name: 'hum/take-1.wav' }).waitFor()
  await page.goBack()
  await eventually(() => focusedName(page)).toBe('hum/take-1.wav')
  await page.context().close()
})

describe('a long report', () => {
  test.each(['light', 'dark'] as const)(
    'is read at 900 pixels with nothing outside, the acts in sight and nothing below them hidden, %s',
    async (scheme) => {
      const { page } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Quiet Foundry')}`, scheme)
      await page.setViewportSize({ width: 900, height: 800 })
      await chooseBoard(page, 'Bench 32')
      await dryRun(page)
      const table = page.getByRole('table', { name: /^Sounds of Quiet Foundry/ })
      await table.waitFor()
      const frame = page.locator('.table-frame')
      expect(await frame.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0)
      const hum = table.getByRole('row').filter({ has: page.getByRole('link', { name: 'hum.wav' }) })
      expect(await hum.getByRole('cell').count()).toBe(4)
      await hum.getByText('32000').first().waitFor()

      const acts = page.getByRole('button', { name: 'Prepare the sounds' })
      await page.getByRole('button', { name: 'Change a step of swing-02.wav' }).click()
      await page.getByRole('form', { name: 'Change a step of swing-02.wav' }).scrollIntoViewIfNeeded()
      const boxes = [acts, page.getByRole('button', { name: 'Keep it' })].map((each) => each.boundingBox())
      for (const box of await Promise.all(boxes)) {
        expect(box!.y).toBeGreaterThan(0)
        expect(box!.x + box!.width).toBeLessThanOrEqual(900)
        expect(box!.y + box!.height).toBeLessThanOrEqual(800)
      }
      await keepPicture(page, `prepare-900-${scheme}`)
      await expectNoViolation(page)

      // Backwards by keys: what takes the focus comes to rest below the acts.
      for (let press = 0; press < 12; press++) {
        await page.keyboard.press('Shift+Tab')
        const [top, below] = await page.evaluate(() => [
          document.activeElement?.getBoundingClientRect().top ?? 0,
          document.querySelector('.act-bar')?.getBoundingClientRect().bottom ?? 0,
        ])
        expect(top, await focusedName(page)).toBeGreaterThanOrEqual(below!)
      }
      await page.context().close()
    },
  )

  test('stands still while a run begun by keys goes on, and the key that began it keeps the focus', async () => {
    const { page } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Glass Meridian')}`)
    await chooseBoard(page, 'Bench 32')
    await dryRun(page)
    await page.getByRole('table').waitFor()
    await page.getByRole('main').evaluate((main) => main.scrollTo(0, 700))
    const place = () => page.getByRole('row').nth(3).boundingBox()
    const before = await place()
    const run = page.getByRole('button', { name: 'Prepare the sounds' })
    await run.focus()
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'Under way' }).waitFor()
    expect(await place()).toEqual(before)
    expect(await focusedName(page)).toBe('Prepare the sounds')
    expect(await focusShows(page)).toBe(true)
    await page.getByRole('region', { name: 'What was prepared' }).waitFor({ timeout: 60_000 })
    expect(await focusedName(page)).toBe('Prepare the sounds')
    await page
      .getByRole('region', { name: 'Jobs' })
      .getByText(/^Done\. Sounds: \d+ made\.$/)
      .waitFor()
    await page.context().close()
  })
})

describe('while a run goes on', () => {
  test('its progress draws nothing of the report anew, and cancelled it says what holds', async () => {
    const { page } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Harbour Bell')}`)
    await chooseBoard(page, 'Bench 32')
    await dryRun(page)
    await page.getByRole('table').waitFor()
    const { prepare } = demo.workshop.core
    Object.assign(demo.workshop.core, { prepare: endlessPrepare })
    try {
      await page.getByRole('button', { name: 'Prepare the sounds' }).click()
      await under(page)
        .getByText(/^preparing · 1 of 9 files/)
        .waitFor()
      // Each number of the report is written by it.
      await page.evaluate(() => {
        const { toFixed } = Number.prototype
        Object.assign(globalThis, { numbersWritten: 0 })
        Object.assign(Number.prototype, {
          toFixed(this: number, ...digits: [number?]) {
            ;(globalThis as unknown as { numbersWritten: number }).numbersWritten++
            return toFixed.apply(this, digits)
          },
        })
      })
      await under(page)
        .getByText(/^preparing · 3 of 9 files/)
        .waitFor()
      const written = () =>
        page.evaluate(() => (globalThis as unknown as { numbersWritten: number }).numbersWritten)
      expect(await written()).toBe(0)
      await under(page).getByRole('button', { name: 'Cancel' }).click()
      await page
        .getByRole('status')
        .getByText(/^Cancelled\. Nothing was left half-made; .* What was made until then is kept\.$/)
        .waitFor()
      await told(page).getByText('Dry run for Bench 32').waitFor()
    } finally {
      Object.assign(demo.workshop.core, { prepare })
    }
    // The same count sees the report of the next run.
    await dryRun(page)
    await under(page).waitFor({ state: 'detached' })
    await eventually(() =>
      page.evaluate(() => (globalThis as unknown as { numbersWritten: number }).numbersWritten),
    ).toBeGreaterThan(50)
    await page.context().close()
  })

  test('that cannot write where it was asked says so beside its acts, and where it wrote once it could', async () => {
    const { page } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Ember Loom')}`)
    await page.setViewportSize({ width: 900, height: 800 })
    const about = page.getByRole('textbox', { name: /^Also write a page about it/ })
    await about.fill(join(demo.base, 'no-such-folder', 'about.html'))
    await about.press('Enter')
    await page.getByRole('alert').getByText('Make the folder first, or choose another.').waitFor()
    await page.getByText(/^It did not come to its end: The folder for the page does not exist\.$/).waitFor()
    await expectNoViolation(page)
    const path = join(demo.base, 'about-ember.html')
    await about.fill(path)
    await about.press('Enter')
    const made = page.getByRole('region', { name: 'What was prepared' })
    await made.getByText(path).waitFor({ timeout: 60_000 })
    expect(existsSync(path)).toBe(true)
    await page.context().close()
  })
})

describe('a sound that is prepared anew', () => {
  test('is fetched anew by the player that stands open', async () => {
    const editionId = await demo.fontId('Quiet Foundry')
    const { page } = await demo.at(`/fonts/prepare/font/${editionId}`)
    await chooseBoard(page, 'Bench 32')
    const run = page.getByRole('button', { name: 'Prepare the sounds' })
    const made = page.getByRole('region', { name: 'What was prepared' })
    await run.click()
    await made.getByRole('button', { name: 'Hear A and B of clash-01.wav' }).click()
    const asked: string[] = []
    page.on('request', (request) => {
      if (request.url().includes('prepared-for')) asked.push(request.url())
    })
    await made.getByRole('button', { name: 'B, as prepared' }).click()
    await eventually(() => asked.length).toBe(1)

    await page.getByRole('button', { name: 'Change a step of clash-01.wav' }).click()
    const form = page.getByRole('form', { name: 'Change a step of clash-01.wav' })
    await form.getByRole('combobox', { name: 'Step' }).click()
    await page.getByRole('option', { name: 'Gain' }).click()
    await form.getByRole('button', { name: 'Keep it' }).click()
    await page.getByRole('region', { name: 'Your own words on steps' }).waitFor()
    await told(page).waitFor()
    await run.click()
    await made.waitFor({ timeout: 60_000 })
    const hear = made.getByRole('button', { name: 'Hear A and B of clash-01.wav' })
    if ((await hear.getAttribute('aria-expanded')) === 'false') await hear.click()
    await made.getByRole('button', { name: 'B, as prepared' }).click()
    await eventually(() => asked.length).toBe(2)

    // The word is taken back by keys: with the last one gone they go on with the acts.
    await tabTo(page, /^Take back: /)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'Your own words on steps' }).waitFor({ state: 'detached' })
    await eventually(() => focusedName(page)).toBe('Dry run')
    await page.context().close()
  })
})

/** Goes on, three sounds far, until it is cancelled. */
function endlessPrepare(_request: unknown, { onProgress, cancel }: RunControl): Promise<never> {
  let done = 0
  const tell = () => {
    if (done < 3) onProgress({ phase: 'preparing', done: ++done, total: 9, unit: 'files', current: null })
  }
  tell()
  const timer = setInterval(tell, 700)
  return new Promise((_resolve, reject) => {
    cancel.addEventListener('abort', () => {
      clearInterval(timer)
      reject(new Cancelled())
    })
  })
}
