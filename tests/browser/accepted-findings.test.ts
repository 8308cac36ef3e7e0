import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'
import { focusedName, focusShows, tabTo } from '../support/keyboard.ts'

// Findings on the way to a card, accepted by keys: with a reason that stays as long as the fonts do.

const demo = demoWindow()
const ACCEPTED = 'sample-rate of swing-02.wav'

async function cardOf(...fonts: readonly string[]) {
  const opened = await demo.at('/fonts')
  const { page } = opened
  for (const font of fonts)
    await page.getByRole('checkbox', { name: new RegExp(`^Put ${font} .*on the card$`) }).check()
  await page.getByRole('link', { name: /^Make a card with/ }).click()
  await page.getByText(/^Not ready for the board/).waitFor()
  return opened
}

async function acceptByKeys(page: Page): Promise<void> {
  await tabTo(page, new RegExp(`^Accept ${ACCEPTED}$`))
  await page.keyboard.press('Enter')
  await eventually(() => focusedName(page)).toBe(`Reason to accept ${ACCEPTED}`)
  await page.keyboard.type('Heard on the bench')
  await tabTo(page, /^Accept for this reason$/)
  await page.keyboard.press('Enter')
  await page.getByText('Accepted: Heard on the bench').waitFor()
}

describe('accepting a finding', () => {
  test('goes by keys alone, each step where the one before it was, and is taken back', async () => {
    const { page, complaints } = await cardOf('Thornwick')
    await acceptByKeys(page)
    await eventually(() => focusedName(page)).toBe(`Take back ${ACCEPTED}`)
    expect(await focusShows(page)).toBe(true)
    await expectNoViolation(page)
    await page.keyboard.press('Enter')
    await eventually(() => focusedName(page)).toBe(`Accept ${ACCEPTED}`)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('outlasts another order and a reload, and no other font', async () => {
    const { page } = await cardOf('Thornwick', 'Harbour Bell')
    await acceptByKeys(page)
    const list = page.getByRole('list', { name: 'Fonts on the card, in play order' })
    await page.getByRole('button', { name: /^Move Thornwick .* down$/ }).click()
    await eventually(async () => (await list.getByRole('listitem').allInnerTexts())[0]).toContain('Harbour')
    expect(await page.getByText('Accepted: Heard on the bench').count()).toBe(1)
    await page.reload()
    await page.getByText('Accepted: Heard on the bench').waitFor()
    await page.getByRole('button', { name: /^Leave Harbour Bell .* out$/ }).click()
    await page.getByRole('button', { name: `Accept ${ACCEPTED}` }).waitFor()
    await page.context().close()
  })
})
