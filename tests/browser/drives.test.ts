import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import {
  eventually,
  expectNoViolation,
  keepPicture,
  launchBrowser,
  openPage,
  type Scheme,
} from '../support/browser.ts'
import { CARD, drivesCore, EXFAT, LARGE, NOTE, STRANGERS } from '../support/drives-core.ts'
import { tabTo } from '../support/keyboard.ts'
import { serveWindow } from '../support/served-window.ts'

// Writing to a card in a drive, over a core that has drives as no test machine has them.

const fixture = drivesCore()
const all = fixture.drives
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
beforeEach(() => {
  Object.assign(fixture, { drives: all, hasStrangers: false, isEndless: false })
  fixture.written.length = 0
})

/** The make page with one font on the card, asked to write into a card. */
async function open(scheme?: Scheme) {
  const opened = await openPage(browser, door.newUrl(), scheme)
  const { page } = opened
  await page.getByRole('checkbox', { name: 'Put Font 00000 1 on the card' }).check()
  await page.getByRole('link', { name: 'Make a card' }).click()
  await page.getByRole('radio', { name: 'into a card or a folder' }).check()
  await page.getByRole('radiogroup', { name: 'Where to' }).waitFor()
  return opened
}

const drive = (page: Page, label: string) => page.getByRole('radio', { name: new RegExp(`^${label} `) })
const write = (page: Page) => page.getByRole('button', { name: 'Write the card' })

describe('a card in a drive', () => {
  test.each(['light', 'dark'] as const)(
    'is chosen from what is plugged in, told what is overwritten, written and proved, %s',
    async (scheme) => {
      const { page, complaints } = await open(scheme)
      expect(await page.getByRole('button', { name: 'Write the card' }).count()).toBe(0)
      expect(await page.getByRole('radio', { name: /^Without a name/ }).isDisabled()).toBe(true)
      await page.getByText('open it once in the file manager').waitFor()
      await drive(page, 'CARD').check()
      const there = page.getByRole('region', { name: 'What is there' })
      await there.getByText('The content 7Q2M4K9XZA on it is overwritten.').waitFor()
      await there.getByText(/Take the cell out before the card goes in or out/).waitFor()
      expect(await there.innerText()).toMatch(/FAT32, clusters of 4 KiB/)
      await there.scrollIntoViewIfNeeded()
      await keepPicture(page, `drive-${scheme}`)
      await expectNoViolation(page)
      await write(page).click()
      const done = page.getByRole('region', { name: 'The card that was written' })
      await done.getByText('Eject CARD.').waitFor()
      await done.getByText('18 files of 8.6 MiB written, 2 files right already').waitFor()
      await done.getByText('everything was seated anew').waitFor()
      await done.getByRole('list', { name: 'Fonts as the board counts them' }).getByText('01-font').waitFor()
      await done.getByText('Without a licence on record').waitFor()
      expect(fixture.written).toEqual([
        { boardId: 'bench-44', editionIds: ['edition-0'], cardBytes: 15_360_000_000, into: CARD.path },
      ])
      await done.getByRole('button', { name: 'Read the card back' }).click()
      await eventually(() => done.getByText('Verified: every file reads back as recorded.').count()).toBe(2)
      await done.scrollIntoViewIfNeeded()
      await keepPicture(page, `drive-written-${scheme}`)
      await expectNoViolation(page)
      await page.setViewportSize({ width: 640, height: 900 })
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
      expect(overflow).toBeLessThanOrEqual(0)
      await keepPicture(page, `drive-narrow-${scheme}`)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('is written by keys alone', async () => {
    const { page } = await open()
    await tabTo(page, /^CARD|Look for drives again/)
    await drive(page, 'CARD').focus()
    await page.keyboard.press('Space')
    await page.getByRole('region', { name: 'What is there' }).waitFor()
    await eventually(() => write(page).isEnabled()).toBe(true)
    await tabTo(page, /^Write the card$/)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'The card that was written' }).waitFor()
    await page.context().close()
  })

  test('of a file system that the board cannot read is refused, with how to format it', async () => {
    const { page } = await open()
    await drive(page, 'LARGE').check()
    const alert = page.getByRole('region', { name: 'What is there' }).getByRole('alert')
    await alert.getByText(EXFAT.what).waitFor()
    await alert.getByText(EXFAT.mend).waitFor()
    // One list of the steps in their order, and in it the ways of which one is enough.
    const steps = alert.locator('ol > li')
    expect(await steps.count()).toBe(EXFAT.steps.length)
    expect(await steps.nth(0).innerText()).toBe('Copy off what is wanted.')
    expect(await steps.nth(1).getByRole('listitem').allInnerTexts()).toEqual(EXFAT.steps[1]!.ways)
    expect(await write(page).isDisabled()).toBe(true)
    expect(await page.getByRole('checkbox', { name: /^Remove what is there/ }).count()).toBe(0)
    await expectNoViolation(page)
    await keepPicture(page, 'drive-refused-light')
    await drive(page, 'CARD').check()
    await eventually(() => write(page).isEnabled()).toBe(true)
    expect(await page.getByText(EXFAT.what).count()).toBe(0)
    await page.context().close()
  })

  test('with files that nobody knows is written only on an explicit word', async () => {
    fixture.hasStrangers = true
    const { page } = await open('dark')
    await drive(page, 'CARD').check()
    await page.getByText(STRANGERS.what).waitFor()
    expect(await write(page).isDisabled()).toBe(true)
    await page.getByText('2 files there that no record and no plan knows').click()
    await page.getByText('letters/one.txt').waitFor()
    await page.getByRole('checkbox', { name: /^Remove what is there/ }).check()
    await eventually(() => write(page).isEnabled()).toBe(true)
    await expectNoViolation(page)
    await keepPicture(page, 'drive-strangers-dark')
    await write(page).click()
    await page.getByText('2 files taken away').waitFor()
    expect(fixture.written[0]).toMatchObject({ into: CARD.path, replace: true })
    await page.context().close()
  })

  test('loses the explicit word where another drive is chosen', async () => {
    fixture.hasStrangers = true
    const { page } = await open()
    await drive(page, 'CARD').check()
    await page.getByRole('checkbox', { name: /^Remove what is there/ }).check()
    await drive(page, 'LARGE').check()
    await page.getByText(EXFAT.what).waitFor()
    await drive(page, 'CARD').check()
    expect(await page.getByRole('checkbox', { name: /^Remove what is there/ }).isChecked()).toBe(false)
    await page.context().close()
  })

  test('shows how far it is, and is cancelled', async () => {
    fixture.isEndless = true
    const { page } = await open()
    await drive(page, 'CARD').check()
    await eventually(() => write(page).isEnabled()).toBe(true)
    await write(page).click()
    const part = page.getByRole('region', { name: 'Card or folder' })
    await part.getByText(/3 of 10 files/).waitFor()
    await part.getByText('Leave the card in until it is done.').waitFor()
    expect(await drive(page, 'LARGE').isDisabled()).toBe(true)
    await page.getByRole('link', { name: 'Boards' }).click()
    await page.getByRole('heading', { level: 1, name: 'Boards' }).waitFor()
    await page.goBack()
    await part.getByText(/3 of 10 files/).waitFor()
    await page
      .getByRole('region', { name: 'Jobs' })
      .getByRole('button', { name: /^Cancel/ })
      .click()
    await part.getByText('Nothing was left half-made; start again whenever you like.').waitFor()
    await page.context().close()
  })

  test('that is put in later is found by looking again', async () => {
    fixture.drives = []
    const { page } = await open()
    await page.getByText('No removable drive is there.').waitFor()
    fixture.drives = [LARGE]
    await page.getByRole('button', { name: 'Look for drives again' }).click()
    await drive(page, 'LARGE').waitFor()
    await page.context().close()
  })
})

describe('verifying', () => {
  test('takes a card that is in a drive by one press', async () => {
    const { page, complaints } = await openPage(browser, door.newUrl())
    await page.goto(`${new URL(door.url).origin}/#/cards/verify`)
    const shortcuts = page.getByRole('group', { name: 'Cards that are in a drive now' })
    await shortcuts.getByRole('button', { name: /^CARD/ }).click()
    expect(await page.getByRole('textbox', { name: /^Image file/ }).inputValue()).toBe(CARD.path)
    await page.getByRole('button', { name: 'Verify', exact: true }).click()
    await page.getByText('Verified: every file reads back as recorded.').waitFor()
    await page.getByText(NOTE).waitFor()
    await expectNoViolation(page)
    await keepPicture(page, 'verify-drive-light')
    expect(complaints).toEqual([])
    await page.context().close()
  })
})

describe('a folder that is named', () => {
  test('is looked at once it was asked for, and told where it is not there', async () => {
    const { page } = await open()
    await page.getByRole('radio', { name: 'Another folder' }).check()
    const folder = page.getByRole('textbox', { name: 'Folder' })
    await folder.fill('/nowhere')
    expect(await write(page).count()).toBe(0)
    await page.getByRole('button', { name: 'Look at it' }).click()
    await page.getByRole('alert').getByText('There is no such folder.').waitFor()
    await folder.fill(CARD.path!)
    await page.getByRole('button', { name: 'Look at it' }).click()
    await eventually(() => write(page).isEnabled()).toBe(true)
    await expectNoViolation(page)
    await page.context().close()
  })
})
