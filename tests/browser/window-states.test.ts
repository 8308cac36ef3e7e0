import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import { eventually, expectNoViolation, keepPicture, launchBrowser, openPage } from '../support/browser.ts'
import { fixtureCore } from '../support/fixture-core.ts'
import { serveWindow } from '../support/served-window.ts'

// What a small workshop cannot show: thousands of fonts, an act that goes on until it is cancelled,
// answers that fail, a browser that was not let in.

const FONTS = 5000
const fixture = fixtureCore(FONTS)
let browser: Browser
let door: LoopbackDoor

beforeAll(async () => {
  door = await serveWindow(fixture.core)
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser?.close()
  await door?.close()
})

describe('a library of thousands', () => {
  test('only the rows in view are drawn, and the keyboard reaches the last', async () => {
    const { page, complaints } = await openPage(browser, door.newUrl())
    const table = page.getByRole('table', { name: 'Fonts' })
    await table.getByRole('link').first().waitFor()
    expect(await table.getAttribute('aria-rowcount')).toBe(String(FONTS + 1))
    expect(await table.getByRole('row').count()).toBeLessThan(60)
    await table.getByRole('link').first().focus()
    await page.keyboard.press('ArrowDown')
    await eventually(() => focusedText(page)).toBe('Font 00001')
    await page.keyboard.press('End')
    await eventually(() => focusedText(page)).toBe('Font 04999')
    await page.keyboard.press('Home')
    await eventually(() => focusedText(page)).toBe('Font 00000')
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('at 900 pixels every column is there, and each row keeps to its height', async () => {
    const { page } = await openPage(browser, door.newUrl(), 'dark')
    await page.setViewportSize({ width: 900, height: 800 })
    const table = page.getByRole('table', { name: 'Fonts' })
    await table.getByRole('link').first().waitFor()
    expect(await table.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0)
    const outside = await table.evaluate(
      (element) =>
        [...element.querySelectorAll('[role=row]')].flatMap((row) => {
          const frame = row.getBoundingClientRect()
          return [...row.children].filter((cell) => {
            const { top, right, bottom } = cell.getBoundingClientRect()
            return top < frame.top - 1 || bottom > frame.bottom + 1 || right > frame.right
          })
        }).length,
    )
    expect(outside).toBe(0)
    await table.getByRole('button', { name: 'Creator' }).click()
    await eventually(() =>
      table.getByRole('columnheader', { name: 'Creator' }).getAttribute('aria-sort'),
    ).toBe('ascending')
    await keepPicture(page, 'fonts-900-dark')
    await expectNoViolation(page)
    await page.context().close()
  })

  test('back from a font, the list stands as it was left: search, filter, place and focus', async () => {
    const { page } = await openPage(browser, door.newUrl())
    const table = page.getByRole('table', { name: 'Fonts' })
    await page.getByRole('textbox', { name: 'Search fonts' }).fill('04')
    await page.getByRole('button', { name: /^ready/ }).click()
    await table.getByRole('link').first().focus()
    await page.keyboard.press('End')
    await eventually(() => focusedText(page)).toMatch(/^Font 04/)
    const [left, count] = [await focusedText(page), await table.getAttribute('aria-rowcount')]
    await page.keyboard.press('Enter')
    await table.waitFor({ state: 'detached' })
    await page.goBack()
    await eventually(() => focusedText(page)).toBe(left)
    expect(await table.getAttribute('aria-rowcount')).toBe(count)
    expect(await page.getByRole('button', { name: /^ready/ }).getAttribute('aria-pressed')).toBe('true')
    await page.context().close()
  })

  test('it is searched, filtered and sorted', async () => {
    const { page } = await openPage(browser, door.newUrl())
    const table = page.getByRole('table', { name: 'Fonts' })
    await page.getByRole('textbox', { name: 'Search fonts' }).fill('0042')
    await eventually(() => table.getAttribute('aria-rowcount')).toBe('12')
    await page.getByRole('button', { name: /^fixable/ }).click()
    await eventually(() => table.getAttribute('aria-rowcount')).toBe('4')
    await page.getByRole('button', { name: 'Size' }).click()
    await page.getByRole('button', { name: 'Size' }).click()
    await eventually(() => table.getByRole('link').first().textContent()).toBe('Font 00428')
    expect(await table.getByRole('columnheader', { name: 'Size' }).getAttribute('aria-sort')).toBe(
      'descending',
    )
    await page.getByRole('textbox', { name: 'Search fonts' }).fill('no such font')
    await page.getByText('No font fits this search and filter.').waitFor()
    await page.context().close()
  })
})

describe('an act that takes long', () => {
  test('shows how far it is on every page, survives a reload, and is cancelled', async () => {
    const { page } = await openPage(browser, door.newUrl(), 'dark')
    await page.getByRole('checkbox', { name: 'Put Font 00000 1 on the card' }).check()
    await page.getByRole('link', { name: 'Make a card' }).click()
    await page.getByText('Nothing stands in the way.').waitFor()
    await page.getByRole('button', { name: 'Make the image' }).click()
    const tray = page.getByRole('region', { name: 'Jobs' })
    await tray.getByText('3 of 10 files').waitFor()
    expect(await tray.getByRole('progressbar').getAttribute('aria-valuenow')).toBe('30')
    await expectNoViolation(page)
    await keepPicture(page, 'making-dark')
    await page.getByRole('link', { name: 'Boards' }).click()
    await page.reload()
    await tray.getByText('3 of 10 files').waitFor()
    await tray.getByRole('button', { name: /^Cancel/ }).click()
    await tray.getByText('Cancelled; nothing was left half-made.').waitFor()
    await tray.getByRole('button', { name: /^Take off the list/ }).click()
    await tray.waitFor({ state: 'detached' })
    await page.context().close()
  })

  test('an accepted finding goes with its reason', async () => {
    const { page } = await openPage(browser, door.newUrl())
    await page.getByRole('checkbox', { name: 'Put Font 00002 1 on the card' }).check()
    await page.getByRole('link', { name: 'Make a card' }).click()
    await page.getByRole('button', { name: 'Accept sample-rate of hum.wav' }).click()
    await page
      .getByRole('textbox', { name: 'Reason to accept sample-rate of hum.wav' })
      .fill('Heard on the bench')
    await page.getByRole('button', { name: 'Accept for this reason' }).click()
    await page.getByText('Accepted: Heard on the bench').waitFor()
    fixture.made.length = 0
    await page.getByRole('button', { name: 'Make the image' }).click()
    await eventually(() => fixture.made).toEqual([
      {
        boardId: 'bench-44',
        editionIds: ['edition-2'],
        cardBytes: 15_360_000_000,
        imagePath: 'card.img',
        accept: [{ rule: 'sample-rate', path: 'hum.wav', reason: 'Heard on the bench' }],
      },
    ])
    await page.getByRole('button', { name: 'Cancel', exact: true }).click()
    await page.getByText('Nothing was left half-made; start again whenever you like.').waitFor()
    await page.context().close()
  })

  test('a card that is too small says how much is missing', async () => {
    const { page } = await openPage(browser, door.newUrl())
    await page.getByRole('checkbox', { name: 'Put Font 00000 1 on the card' }).check()
    await page.getByRole('link', { name: 'Make a card' }).click()
    await page.getByRole('combobox', { name: 'Size of the card' }).click()
    await page.getByRole('option', { name: 'Another size' }).click()
    await page.getByRole('textbox', { name: 'Size', exact: true }).fill('512KiB')
    await page.getByText(/It does not fit: .* are missing\./).waitFor()
    await page.getByRole('textbox', { name: 'Size', exact: true }).fill('a lot')
    await page.getByText('Write a number, then GB or MiB').waitFor()
    await page.context().close()
  })
})

describe('what goes wrong', () => {
  test('is told as the error says, with a way to try again', async () => {
    const { page } = await openPage(browser, door.newUrl())
    await page.getByRole('link', { name: 'Cards' }).click()
    const alert = page.getByRole('alert')
    await alert.getByText('The workshop is in use elsewhere.').waitFor()
    await alert.getByText('Wait for the other window to finish, then try again.').waitFor()
    await alert.getByRole('button', { name: 'Try again' }).waitFor()
    await expectNoViolation(page)
    await page.context().close()
  })

  test('a browser that was not let in gets no window', async () => {
    const context = await browser.newContext()
    const page = await context.newPage()
    const response = await page.goto(new URL(door.url).origin)
    expect(response?.status()).toBe(401)
    expect(await page.getByRole('navigation').count()).toBe(0)
    await context.close()
  })

  test('when Cardwright is closed, the window says so', async () => {
    const own = await serveWindow(fixtureCore(3).core)
    const { page } = await openPage(browser, own.url)
    await page.getByRole('link', { name: 'Font 00000' }).waitFor()
    await own.close()
    await page.getByRole('link', { name: 'Builds' }).click()
    await page.getByRole('alert').getByText('Cardwright does not answer.').waitFor()
    await page.context().close()
  })

  test('an inline script does not run in the page', async () => {
    const { page } = await openPage(browser, door.newUrl())
    const ran = await page.evaluate(() => {
      const script = document.createElement('script')
      script.textContent = 'window.ranInline = true'
      document.body.append(script)
      return 'ranInline' in window
    })
    expect(ran).toBe(false)
    await page.context().close()
  })
})

function focusedText(page: { evaluate<T>(work: () => T): Promise<T> }): Promise<string> {
  return page.evaluate(() => document.activeElement?.textContent ?? '')
}
