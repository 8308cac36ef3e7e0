import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { beforeAll, describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'
import { focusShows, tabTo } from '../support/keyboard.ts'

// One content that several builds got: told with each of them wherever it is shown, and found by each.

const demo = demoWindow()
const BUILDS = [
  { code: 'EX-201', clientLabel: 'Client Quay' },
  { code: 'EX-202', clientLabel: 'Client Pier' },
] as const
let fingerprint: string

beforeAll(async () => {
  const { core } = demo.workshop
  const fontEditionIds = [await demo.fontId('Ember Loom'), await demo.fontId('Glass Meridian')]
  const made: string[] = []
  for (const build of BUILDS) {
    const plain = { boardId: 'bench-44', speaker: '', speakerLowLimitHz: null, config: null, note: '' }
    await core['builds:add']({ ...plain, ...build, fontEditionIds, ruleChanges: [] }, control)
    const imagePath = join(demo.base, `${build.code}.img`)
    made.push((await core.make({ buildCode: build.code, imagePath }, control)).fingerprint)
  }
  expect(new Set(made).size).toBe(1)
  fingerprint = made[0]!
})

const row = (page: Page) =>
  page.getByRole('row').filter({ has: page.getByRole('link', { name: fingerprint, exact: true }) })

describe('in the list of cards', () => {
  test.each([
    { width: 1280, scheme: 'light' },
    { width: 1280, scheme: 'dark' },
    { width: 900, scheme: 'light' },
    { width: 900, scheme: 'dark' },
  ] as const)(
    'it is one line with each of its builds and their clients, $width pixels, $scheme',
    async ({ width, scheme }) => {
      const { page, complaints } = await demo.at('/cards', scheme)
      await page.setViewportSize({ width, height: 800 })
      await row(page).waitFor()
      expect(await row(page).count()).toBe(1)
      for (const { code, clientLabel } of BUILDS) {
        const line = row(page).getByText(code, { exact: true }).locator('..')
        expect((await line.innerText()).replace(/\s+/g, ' ')).toBe(`${code} ${clientLabel}`)
        const box = (await line.boundingBox())!
        expect(box.x + box.width).toBeLessThanOrEqual(width)
      }
      await keepPicture(page, `cards-of-builds-${width}-${scheme}`)
      await expectNoViolation(page)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('it is found by the code of either build and by either client, and is not by another', async () => {
    const { page } = await demo.at('/cards')
    await row(page).waitFor()
    await tabTo(page, /^Search cards$/)
    for (const words of BUILDS.flatMap(({ code, clientLabel }) => [code.toLowerCase(), clientLabel])) {
      await page.getByRole('textbox', { name: 'Search cards' }).fill(words)
      await page.getByText(/^1 of \d+ cards/).waitFor()
      expect(await row(page).count(), words).toBe(1)
    }
    await page.getByRole('textbox', { name: 'Search cards' }).fill('EX-101')
    await eventually(() => row(page).count()).toBe(0)
    await page.context().close()
  })
})

test('its own page names and links both, and each build tells it among its cards', async () => {
  const { page, complaints } = await demo.at(`/cards/contents/${fingerprint}`)
  const head = page.locator('.page-head')
  await head.getByText(/for build EX-201 and EX-202, for the board bench-44$/).waitFor()
  for (const { code } of BUILDS) {
    await tabTo(page, new RegExp(`^${code}$`))
    expect(await focusShows(page)).toBe(true)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { level: 1, name: new RegExp(code) }).waitFor()
    const cards = page.getByRole('region', { name: 'Cards made' })
    await cards.getByRole('link', { name: fingerprint, exact: true }).waitFor()
    await page.goBack()
    await head.getByText(/for build EX-201 and EX-202/).waitFor()
  }
  expect(complaints).toEqual([])
  await page.context().close()
})
