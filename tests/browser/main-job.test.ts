import { cpSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { open } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { openWorkshop } from '../../main/workshop.ts'
import { eventually, expectNoViolation, keepPicture, openPage } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'
import { focusShows, tabTo } from '../support/keyboard.ts'
import { serveWindow } from '../support/served-window.ts'

// The window over the real core and the demo workshop, in a real browser.

const demo = demoWindow()
const { base, at, fontId, addressOf } = demo

describe('an empty workshop', () => {
  test('offers a demo, and leads from it to fonts with verdicts', async () => {
    const own = await openWorkshop({ folder: join(base, 'first') })
    const ownDoor = await serveWindow(own.core)
    const { page, complaints } = await openPage(demo.browser, ownDoor.url)
    await page.getByRole('heading', { name: 'Your workshop is empty' }).waitFor()
    await expectNoViolation(page)
    await keepPicture(page, 'first-start-light')
    await page.getByRole('button', { name: 'Make the demo workshop' }).click()
    await page.getByRole('table', { name: 'Fonts' }).waitFor({ timeout: 120_000 })
    await page.getByRole('region', { name: 'Jobs' }).getByText('Done.').waitFor({ timeout: 120_000 })
    await eventually(() => rowText(page, 'Harbour Bell')).toContain('ready')
    expect(await rowText(page, 'Thornwick')).toMatch(/fixable|blocked/)
    expect(await rowText(page, 'Quiet Foundry')).toContain('none')
    expect(complaints).toEqual([])
    await page.context().close()
    await ownDoor.close()
    await own.close()
  })
})

const rowText = (page: Page, name: string) => page.getByRole('row').filter({ hasText: name }).innerText()

describe('every page', () => {
  const PAGES = [
    { name: 'fonts', place: () => '/fonts', shows: 'Harbour Bell' },
    { name: 'scan', place: () => '/fonts/places', shows: 'Scanned places' },
    {
      name: 'font-findings',
      place: async () => `/fonts/${await fontId('Thornwick')}`,
      shows: 'Why it matters',
    },
    { name: 'boards', place: () => '/boards', shows: 'Bench 44' },
    { name: 'board', place: () => '/boards/bench-44', shows: 'What it accepts' },
    { name: 'builds', place: () => '/builds', shows: 'EX-101' },
    { name: 'build-new', place: () => '/builds/new', shows: 'Config file' },
    { name: 'licences', place: () => '/builds/licences', shows: 'EX-ORDER-1' },
    { name: 'creators', place: () => '/builds/creators', shows: 'Varnisk' },
    { name: 'cards', place: () => '/cards', shows: 'EX-101' },
    { name: 'verify', place: () => '/cards/verify', shows: 'Image file' },
    { name: 'make', place: () => '/cards/make', shows: 'Nothing yet' },
    { name: 'workshop', place: () => '/workshop', shows: 'Usual speaker' },
  ]
  test.each(
    PAGES.flatMap((page) => [
      { ...page, scheme: 'light' as const },
      { ...page, scheme: 'dark' as const },
    ]),
  )('$name holds to WCAG 2.2 AA, $scheme', async ({ name, place, shows, scheme }) => {
    const { page, complaints } = await at(await place(), scheme)
    await page.getByText(shows).first().waitFor()
    await keepPicture(page, `${name}-${scheme}`)
    await expectNoViolation(page)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test.each(['light', 'dark'] as const)(
    'the other parts of a font hold to it as well, %s',
    async (scheme) => {
      const { page } = await at(`/fonts/${await fontId('Harbour Bell')}`, scheme)
      for (const part of ['Sounds', 'Licences', 'Places and files', 'Name and creator']) {
        await page.getByRole('tab', { name: new RegExp(`^${part}`) }).click()
        await page.getByRole('tabpanel').waitFor()
        await expectNoViolation(page)
        await keepPicture(page, `font-${part.toLowerCase().replaceAll(' ', '-')}-${scheme}`)
      }
      await page.context().close()
    },
  )

  test('a narrow window hides nothing sideways', async () => {
    const { page } = await at('/fonts')
    await page.setViewportSize({ width: 640, height: 800 })
    for (const place of ['/fonts', '/cards/make', '/builds/new', '/boards']) {
      await page.goto(addressOf(place))
      await page.getByRole('heading', { level: 1 }).waitFor()
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
      expect(overflow, place).toBeLessThanOrEqual(0)
    }
    await keepPicture(page, 'narrow')
    await page.context().close()
  })
})

describe('the workshop', () => {
  test('is told its usual speaker, through which the hums of its fonts are judged from then on', async () => {
    const { page } = await at('/fonts')
    await page.getByRole('link', { name: 'Demo workshop' }).click()
    const limit = page.getByRole('textbox', { name: /^Usual speaker/ })
    await limit.fill('900')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    await page.goto(addressOf(`/fonts/${await fontId('Harbour Bell')}`))
    await page.getByText('as heard through a speaker from 900 Hz').first().waitFor()
    await page.goto(addressOf('/workshop'))
    await limit.fill('')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    await page.context().close()
  })
})

describe('a font', () => {
  test('tells what was found, why it matters and how to mend it', async () => {
    const { page } = await at(`/fonts/${await fontId('Thornwick')}`)
    const finding = page
      .getByRole('article')
      .filter({ hasText: 'swing-02.wav' })
      .filter({ hasText: 'sample-rate' })
    await finding.waitFor()
    expect(await finding.innerText()).toMatch(/48.?000/)
    await finding.getByText('Why it matters').waitFor()
    await finding.getByText('How to mend it').waitFor()
    await page.context().close()
  })

  test('shows its sounds with facts and levels in units, and plays them', async () => {
    const { page } = await at(`/fonts/${await fontId('Harbour Bell')}`)
    await page.getByRole('tab', { name: /^Sounds/ }).click()
    const hum = page.getByRole('row').filter({ hasText: 'hum.wav' })
    expect(await hum.innerText()).toMatch(/44\.1 kHz · 16 bit · mono/)
    expect(await hum.innerText()).toMatch(/−\d+\.\d LUFS/)
    const fetched = page.waitForResponse((response) => response.url().includes('/sound/'))
    await hum.getByRole('button', { name: 'Play hum.wav' }).click()
    expect([200, 206]).toContain((await fetched).status())
    await hum.getByRole('button', { name: 'Stop hum.wav' }).click()
    await page.context().close()
  })

  test('gets another name and version, and its folder keeps its own', async () => {
    const { page } = await at(`/fonts/${await fontId('Quiet Foundry')}`)
    await page.getByRole('tab', { name: 'Name and creator' }).click()
    await page.getByRole('textbox', { name: 'Version' }).fill('9.9')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    await page.getByRole('heading', { name: 'Quiet Foundry 9.9' }).waitFor()
    await page.context().close()
  })
})

describe('scanning', () => {
  test('a folder is scanned from the window, shown, and removed with what that means', async () => {
    const folder = join(base, 'mine')
    const [creator = ''] = readdirSync(join(base, 'demo', 'demo-fonts')).filter((name) => name === 'Kolmarra')
    cpSync(
      join(base, 'demo', 'demo-fonts', creator, 'Thornwick v3'),
      join(folder, 'Somewhere', 'Bell Weather 4'),
      {
        recursive: true,
      },
    )
    writeFileSync(join(folder, 'Somewhere', 'Bell Weather 4', 'extra.wav'), 'no sound at all')
    const { page } = await at('/fonts/places')
    await page.getByRole('textbox', { name: /^Folder or zip archive/ }).fill(folder)
    await page.getByRole('button', { name: 'Scan', exact: true }).click()
    await page.getByText(/1 font with \d+ sounds found\./).waitFor()
    const row = page.getByRole('row').filter({ hasText: folder })
    await row.getByRole('button', { name: `Remove ${folder}` }).click()
    await page.getByText('no file is deleted').waitFor()
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Remove it from the library' }).click()
    await row.waitFor({ state: 'detached' })
    await page.context().close()
  })

  test.each([
    { name: 'a path that is not there', path: () => join(base, 'nowhere') },
    {
      name: 'a file that is no archive',
      path: () => {
        const file = join(base, 'notes.txt')
        writeFileSync(file, 'not an archive')
        return file
      },
    },
  ])('$name is told in words', async ({ path }) => {
    const { page } = await at('/fonts/places')
    await page.getByRole('textbox', { name: /^Folder or zip archive/ }).fill(path())
    await page.getByRole('button', { name: 'Scan', exact: true }).click()
    await page.locator('form').getByRole('alert').waitFor()
    expect(await page.locator('form').getByRole('alert').innerText()).toContain(path())
    await page.context().close()
  })

  test('a folder without sounds is told as such', async () => {
    const folder = join(base, 'empty')
    mkdirSync(folder, { recursive: true })
    const { page } = await at('/fonts/places')
    await page.getByRole('textbox', { name: /^Folder or zip archive/ }).fill(folder)
    await page.getByRole('button', { name: 'Scan', exact: true }).click()
    await page
      .getByText(/No sounds were found there\.|holds no sound/)
      .first()
      .waitFor()
    await page.context().close()
  })
})

describe('records', () => {
  test('a creator, a licence and a build are added, changed and shown', async () => {
    const { page } = await at('/builds/creators/new')
    await page.getByRole('textbox', { name: 'Name' }).fill('Invented Maker')
    await page.getByRole('button', { name: 'Add' }).click()
    await page.getByRole('heading', { name: 'Invented Maker' }).waitFor()
    await page.getByRole('textbox', { name: 'Contact' }).fill('by the door')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()

    await page.getByRole('link', { name: 'Licences' }).click()
    await page.getByRole('link', { name: 'Add a licence' }).click()
    await page.getByRole('combobox', { name: 'Font' }).click()
    await page.getByRole('option', { name: 'Glass Meridian' }).click()
    await page.getByRole('textbox', { name: 'Holder' }).fill('A holder of the test')
    const conversion = page.getByRole('combobox', { name: 'Conversion allowed' })
    expect(await conversion.inputValue()).toBe('unknown')
    await conversion.click()
    await page.getByRole('option', { name: 'no', exact: true }).click()
    await page.getByRole('button', { name: 'Add' }).click()
    await page.getByRole('heading', { name: 'Licence for Glass Meridian' }).waitFor()
    expect(await conversion.inputValue()).toBe('no')
    await page.getByRole('link', { name: 'Licences' }).click()
    const row = page.getByRole('row').filter({ hasText: 'A holder of the test' })
    await row.getByRole('cell', { name: 'no', exact: true }).waitFor()
    await row.getByRole('link', { name: 'Glass Meridian' }).click()
    await page.getByRole('heading', { name: 'Licence for Glass Meridian' }).waitFor()
    await page.getByRole('button', { name: 'Remove …' }).click()
    await page.getByRole('button', { name: 'Remove the licence' }).click()
    await page.getByRole('heading', { name: 'Licences' }).waitFor()
    await page.getByText('A holder of the test').waitFor({ state: 'detached' })

    await page.getByRole('link', { name: 'Builds' }).last().click()
    await page.getByRole('link', { name: 'Add a build' }).click()
    await page.getByRole('textbox', { name: 'Code' }).fill('TB-7')
    for (const font of ['Harbour Bell', 'Ember Loom']) {
      await page.getByRole('combobox', { name: 'Add a font' }).fill(font)
      await page.getByRole('option', { name: new RegExp(`^${font}`) }).click()
    }
    await page.getByRole('button', { name: /^Move Ember Loom .*up$/ }).click()
    await page.getByRole('button', { name: 'Add', exact: true }).click()
    await page.getByRole('heading', { name: 'Build TB-7' }).waitFor()
    const { builds } = await demo.workshop.core['builds:list']({}, control)
    const build = builds.find((each) => each.code === 'TB-7')
    expect(build?.fontEditionIds).toEqual([await fontId('Ember Loom'), await fontId('Harbour Bell')])
    await page.context().close()
  })

  test('what does not fit is told beside the form, and nothing is lost', async () => {
    const { page } = await at('/builds/new')
    await page.getByRole('textbox', { name: 'Code' }).fill('EX-101')
    await page.getByRole('button', { name: 'Add', exact: true }).click()
    await page.getByRole('alert').waitFor()
    expect(await page.getByRole('textbox', { name: 'Code' }).inputValue()).toBe('EX-101')
    await expectNoViolation(page)
    await page.context().close()
  })
})

describe('a card', () => {
  test('goes from the list to a verified image by keyboard alone', async () => {
    const { page, complaints } = await openPage(demo.browser, demo.door.newUrl())
    const key = (name: string) => page.keyboard.press(name)
    await page.getByRole('link', { name: 'Harbour Bell' }).waitFor()
    await tabTo(page, /^Put Ember Loom .* on the card$/)
    await key('Space')
    await tabTo(page, /^Put Harbour Bell .* on the card$/)
    await key('Space')
    await tabTo(page, /^Make a card with 2 fonts$/)
    expect(await focusShows(page)).toBe(true)
    await key('Enter')
    await page.getByRole('heading', { name: 'Make a card' }).waitFor()
    await page.getByText('Nothing stands in the way.').waitFor()
    await tabTo(page, /^Move Harbour Bell .* up$/)
    expect(await focusShows(page)).toBe(true)
    await key('Enter')
    await eventually(() => page.getByRole('list', { name: /in play order/ }).innerText()).toMatch(
      /Harbour[\s\S]*Ember/,
    )
    await tabTo(page, /^Size of the card/)
    await key('ArrowDown')
    await key('Home')
    await key('Enter')
    await page.getByText('Nothing stands in the way.').waitFor()
    await tabTo(page, /^Image file/)
    await key('Control+a')
    await page.keyboard.type('by-keyboard.img')
    await key('Enter')
    await page.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
    const made = page.getByRole('region', { name: 'The card that was made' })
    await made.getByText('by-keyboard.img').waitFor()
    expect(await made.innerText()).toMatch(/Fingerprint\s+[0-9A-HJKMNP-TV-Z]{10}/)
    await made.getByText('Take the cell out before the card goes in').waitFor()
    await expectNoViolation(page)
    await made.scrollIntoViewIfNeeded()
    await keepPicture(page, 'made-light')
    await tabTo(page, /^Verify again$/)
    await key('Enter')
    await page.getByText('Verified: every file reads back as recorded.').nth(1).waitFor()
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('of a build is made in its order, and an image of that name is not replaced unasked', async () => {
    const { page } = await at('/builds', 'dark')
    await page.getByRole('link', { name: 'EX-101' }).click()
    await page.getByRole('button', { name: 'Make its card' }).click()
    await page.getByText('Nothing stands in the way.').waitFor()
    await page.getByRole('img', { name: /used by 3 fonts/ }).waitFor()
    await page.getByRole('button', { name: 'Make the image' }).click()
    await page.getByRole('region', { name: 'Image' }).getByRole('alert').waitFor()
    await page.getByRole('checkbox', { name: /^Replace an image/ }).check()
    await page.getByRole('button', { name: 'Make the image' }).click()
    await page.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
    const order = await page.getByRole('list', { name: 'Fonts as the board counts them' }).innerText()
    expect(order).toMatch(/Harbour Bell[\s\S]*Ember Loom[\s\S]*Glass Meridian/)
    await keepPicture(page, 'made-dark')
    await page.context().close()
  })

  test('of a build with faulty fonts says what stands in the way, and how to mend it', async () => {
    const { page } = await at('/builds')
    await page.getByRole('link', { name: 'EX-102' }).click()
    await page.getByRole('button', { name: 'Make its card' }).click()
    await page.getByText(/^Not ready for the board/).waitFor()
    const found = page.getByRole('region', { name: 'What was found' })
    expect(await found.innerText()).toContain('swing-02.wav')
    await keepPicture(page, 'make-blocked')
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Make the image' }).click()
    await page.getByRole('region', { name: 'Image' }).getByRole('alert').waitFor()
    await page.context().close()
  })

  test('that was changed afterwards is not verified, and the changed file is named', async () => {
    const editionIds = [await fontId('Glass Meridian')]
    const request = { boardId: 'bench-44', editionIds, imagePath: join(base, 'changed.img') }
    const { imagePath, fingerprint } = await demo.workshop.core.make(request, control)
    await spoilOneSound(imagePath)
    const { page } = await at('/cards')
    await page.getByRole('link', { name: `Verify against ${fingerprint}` }).click()
    await page.getByRole('textbox', { name: /^Image file/ }).fill(imagePath)
    await page.getByRole('button', { name: 'Verify', exact: true }).click()
    await page.getByText('Not verified: something differs.').waitFor({ timeout: 60_000 })
    await page.getByText(/^Changed \(1\)$/).waitFor()
    await page.context().close()
  })
})

/** Turns one byte over in the middle of the first sound of the image. */
async function spoilOneSound(path: string): Promise<void> {
  const file = await open(path, 'r+')
  try {
    const chunk = Buffer.alloc(8 * 2 ** 20)
    for (let at = 0; ; at += chunk.length - 16) {
      const { bytesRead } = await file.read(chunk, 0, chunk.length, at)
      const found = chunk.subarray(0, bytesRead).indexOf('RIFF')
      if (found >= 0) {
        const spot = at + found + 2000
        const byte = Buffer.alloc(1)
        await file.read(byte, 0, 1, spot)
        byte[0] = (byte[0] ?? 0) ^ 0xff
        await file.write(byte, 0, 1, spot)
        return
      }
      if (bytesRead < chunk.length) throw new Error('no sound in the image')
    }
  } finally {
    await file.close()
  }
}
