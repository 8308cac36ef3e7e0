import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'
import { focusShows, tabTo } from '../support/keyboard.ts'

// Cards in the window: their order by drag and by keys, what they take, what was made.

const demo = demoWindow()
const { at } = demo
const FONTS = ['Harbour Bell', 'Ember Loom', 'Glass Meridian']

async function withFonts(scheme?: 'light' | 'dark') {
  const opened = await at('/cards/make', scheme)
  for (const font of FONTS) {
    await opened.page.getByRole('combobox', { name: 'Add a font' }).fill(font)
    await opened.page.getByRole('option', { name: new RegExp(`^${font}`) }).click()
  }
  await eventually(() => order(opened.page)).toEqual(FONTS)
  return opened
}

const list = (page: Page): Locator => page.getByRole('list', { name: 'Fonts on the card, in play order' })

/** Names of the fonts as they stand. */
async function order(page: Page): Promise<readonly string[]> {
  const rows = await list(page).getByRole('listitem').allInnerTexts()
  return rows.map((row) => FONTS.find((font) => row.includes(font)) ?? row)
}

describe('the order of fonts', () => {
  test.each(['light', 'dark'] as const)(
    'is changed by dragging; the strip follows, and it is told, %s',
    async (scheme) => {
      const { page, complaints } = await withFonts(scheme)
      const rows = list(page).getByRole('listitem')
      await dragBelow(page, rows.nth(0), rows.nth(2))
      await eventually(() => rows.nth(2).getAttribute('data-lands')).toBe('bottom')
      await keepPicture(page, `order-dragged-${scheme}`)
      await page.mouse.up()
      await eventually(() => order(page)).toEqual(['Ember Loom', 'Glass Meridian', 'Harbour Bell'])
      await page.getByText('Harbour Bell 1.2 is number 3 now, of 3 fonts.').waitFor()
      const key = page.getByRole('toolbar', { name: 'What is on the card, in play order' })
      await eventually(async () => (await key.getByRole('button').allInnerTexts())[0]).toMatch(/Ember Loom/)
      await expectNoViolation(page)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('stays where the drag is broken off', async () => {
    const { page } = await withFonts()
    const rows = list(page).getByRole('listitem')
    await dragBelow(page, rows.nth(0), rows.nth(2))
    await eventually(() => rows.nth(0).getAttribute('data-dragged')).toBe('true')
    await page.keyboard.press('Escape')
    await page.mouse.up()
    await eventually(() => rows.nth(0).getAttribute('data-dragged')).toBeNull()
    expect(await order(page)).toEqual(FONTS)
    await page.context().close()
  })

  test('is changed by keys alone: by buttons, by Alt with an arrow, by typing a number', async () => {
    const { page } = await withFonts()
    await tabTo(page, /^Move Harbour Bell .* down$/)
    expect(await focusShows(page)).toBe(true)
    await page.keyboard.press('Enter')
    await eventually(() => order(page)).toEqual(['Ember Loom', 'Harbour Bell', 'Glass Meridian'])
    await eventually(() => focusedLabel(page)).toMatch(/^Move Harbour Bell .* down$/)
    await page.keyboard.press('Alt+ArrowDown')
    await eventually(() => order(page)).toEqual(['Ember Loom', 'Glass Meridian', 'Harbour Bell'])
    // Nothing is below: the focus stays with the font, on what still works.
    await eventually(() => focusedLabel(page)).toMatch(/^Move Harbour Bell .* up$/)

    const number = page.getByRole('textbox', { name: /^Number of Harbour Bell .* in play order$/ })
    await number.focus()
    await page.keyboard.type('1')
    await page.keyboard.press('Enter')
    await eventually(() => order(page)).toEqual(FONTS)
    await page.getByText(/^Harbour Bell .* is number 1 now, of 3 fonts\.$/).waitFor()
    await eventually(() => focusedLabel(page)).toMatch(/^Number of Harbour Bell/)
    await page.keyboard.type('99')
    await page.keyboard.press('Tab')
    await eventually(() => order(page)).toEqual(['Ember Loom', 'Glass Meridian', 'Harbour Bell'])
    expect(await number.inputValue()).toBe('3')

    await tabTo(page, /^Leave Glass Meridian .* out$/)
    await page.keyboard.press('Enter')
    await eventually(() => order(page)).toEqual(['Ember Loom', 'Harbour Bell'])
    await eventually(() => focusedLabel(page)).toMatch(/^Leave Harbour Bell .* out$/)
    await page.context().close()
  })
})

describe('the card as one strip', () => {
  test.each(['light', 'dark'] as const)(
    'tells each font by keys: its number, folder and bytes, %s',
    async (scheme) => {
      const { page } = await withFonts(scheme)
      await page.getByRole('img', { name: /used by 3 fonts, .* free$/ }).waitFor()
      const key = page.getByRole('toolbar', { name: 'What is on the card, in play order' })
      await key.getByRole('button', { name: /Harbour Bell/ }).focus()
      await page.keyboard.press('ArrowRight')
      await page.keyboard.press('ArrowRight')
      await page.getByText(/^Glass Meridian: folder .*, \d+ files\. [\d,]+ bytes of the card:/).waitFor()
      expect(await key.getByRole('button', { pressed: true }).innerText()).toMatch(/Glass Meridian/)
      await expectNoViolation(page)
      await keepPicture(page, `strip-${scheme}`)
      await page.context().close()
    },
  )
})

/** Drags a row to the lower edge of another, and holds it there. */
async function dragBelow(page: Page, dragged: Locator, target: Locator): Promise<void> {
  const [from, to] = [await boxOf(dragged), await boxOf(target)]
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2)
  await page.mouse.down()
  await page.mouse.move(to.x + to.width / 2, to.y + to.height - 5, { steps: 8 })
  // The browser tells a target only of what moves above it.
  await page.mouse.move(to.x + to.width / 2, to.y + to.height - 4)
}

async function boxOf(locator: Locator) {
  const box = await locator.boundingBox()
  if (box === null) throw new Error('It is not on the screen.')
  return box
}

function focusedLabel(page: Page): Promise<string> {
  return page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '')
}
