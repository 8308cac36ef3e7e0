import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { beforeAll, describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'
import { focusShows, tabTo } from '../support/keyboard.ts'

// A browser's own dialog tells no paths: the window has one of its own.

const { at, base } = demoWindow()
const shelf = join(base, 'shelf')

beforeAll(() => {
  for (const folder of ['Bell 2', 'Bell 10', 'Loom']) mkdirSync(join(shelf, folder), { recursive: true })
  writeFileSync(join(shelf, 'card.img'), 'an image')
  writeFileSync(join(shelf, 'letter.txt'), 'a letter')
})

const entries = (page: Page) => page.getByRole('list', { name: 'What is in it' }).getByRole('button')

describe('a path', () => {
  test.each(['light', 'dark'] as const)('is chosen folder by folder with keys alone, %s', async (scheme) => {
    const { page, complaints } = await at('/fonts/places', scheme)
    await tabTo(page, /^Choose folder/)
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog', { name: 'Choose a folder' })
    await dialog.getByRole('textbox', { name: 'Go to' }).fill(shelf)
    await page.keyboard.press('Enter')
    await dialog.getByText(shelf, { exact: true }).waitFor()
    expect(await entries(page).allInnerTexts()).toEqual(['Up one folder', 'Bell 2', 'Bell 10', 'Loom'])
    await eventually(() => focusedText(page)).toBe('Up one folder')
    await page.keyboard.press('End')
    await page.keyboard.press('ArrowUp')
    await eventually(() => focusedText(page)).toBe('Bell 10')
    expect(await focusShows(page)).toBe(true)
    await keepPicture(page, `chooser-${scheme}`)
    await expectNoViolation(page)
    await page.keyboard.press('Enter')
    await dialog.getByText(join(shelf, 'Bell 10'), { exact: true }).waitFor()
    await tabTo(page, /^Choose this folder$/)
    await page.keyboard.press('Enter')
    await dialog.waitFor({ state: 'detached' })
    expect(await page.getByRole('textbox', { name: /^Folder or zip archive/ }).inputValue()).toBe(
      join(shelf, 'Bell 10'),
    )
    await eventually(() => focusedText(page)).toMatch(/^Choose folder/)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('of an image is chosen by its file; nothing else is offered', async () => {
    const { page } = await at('/cards/verify')
    await page.getByRole('button', { name: 'Choose image …' }).click()
    const dialog = page.getByRole('dialog', { name: 'Choose an image' })
    await dialog.getByRole('textbox', { name: 'Go to' }).fill(shelf)
    await dialog.getByRole('button', { name: 'Go', exact: true }).click()
    await dialog.getByText(shelf, { exact: true }).waitFor()
    expect(await entries(page).allInnerTexts()).not.toContain('letter.txt')
    await entries(page).filter({ hasText: 'card.img' }).click()
    expect(await page.getByRole('textbox', { name: /^Image file/ }).inputValue()).toBe(
      join(shelf, 'card.img'),
    )
    await page.context().close()
  })

  test('of an image to write keeps its name in another folder', async () => {
    const { page } = await at('/builds')
    await page.getByRole('link', { name: 'EX-101' }).click()
    await page.getByRole('button', { name: 'Make its card' }).click()
    await page.getByRole('button', { name: 'Choose place …' }).click()
    const dialog = page.getByRole('dialog', { name: 'Choose where the image goes' })
    await dialog.getByRole('textbox', { name: 'Go to' }).fill(shelf)
    await page.keyboard.press('Enter')
    await dialog.getByText(shelf, { exact: true }).waitFor()
    expect(await dialog.getByRole('textbox', { name: 'File name' }).inputValue()).toBe('EX-101.img')
    await dialog.getByRole('button', { name: 'Choose this place' }).click()
    expect(await page.getByRole('textbox', { name: /^Image file/ }).inputValue()).toBe(
      join(shelf, 'EX-101.img'),
    )
    await page.context().close()
  })

  test('that is not there is told, and Escape leaves everything as it was', async () => {
    const { page } = await at('/fonts/places')
    const field = page.getByRole('textbox', { name: /^Folder or zip archive/ })
    await field.fill(join(base, 'nowhere'))
    await page.getByRole('button', { name: 'Choose folder …' }).click()
    const dialog = page.getByRole('dialog', { name: 'Choose a folder' })
    await dialog.getByRole('alert').getByText('There is no such folder or archive.').waitFor()
    await expectNoViolation(page)
    await dialog.getByRole('button', { name: 'Begin at home' }).click()
    await entries(page).first().waitFor()
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })
    expect(await field.inputValue()).toBe(join(base, 'nowhere'))
    await page.context().close()
  })
})

function focusedText(page: Page): Promise<string> {
  return page.evaluate(() => document.activeElement?.textContent ?? '')
}
