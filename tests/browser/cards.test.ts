import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { Cancelled } from '../../app/errors/app-error.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'
import { jobCount } from '../support/door-jobs.ts'
import { focusShows, tabTo } from '../support/keyboard.ts'

// Cards in the window: their order by drag and by keys, what they take, what was made.

const demo = demoWindow()
const { at, base, fontId } = demo
const FONTS = ['Harbour Bell', 'Ember Loom', 'Glass Meridian']

/** Makes a card of these fonts on one of the demo's boards, by the core itself. */
async function made(names: readonly string[], imageName: string, boardId = 'bench-44') {
  const editionIds = await Promise.all(names.map(fontId))
  const imagePath = join(base, imageName)
  return demo.workshop.core.make({ boardId, editionIds, imagePath, replace: true }, control)
}

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
    // Each change was checked anew; what came of it is nobody's any more once it shows.
    await eventually(() => jobCount(page)).toBe(0)
    await page.context().close()
  })
})

describe('a window of 900 pixels', () => {
  test('shows of the cards made every column and act, and nothing of the page lies outside', async () => {
    const imagePath = join(base, 'narrow.img')
    const { fingerprint } = await demo.workshop.core.make(
      { buildCode: 'EX-101', imagePath, cardBytes: 302_000_000 },
      control,
    )
    const { page } = await at('/cards')
    await page.setViewportSize({ width: 900, height: 800 })
    const remake = page.getByRole('link', { name: `Remake ${fingerprint}` })
    await remake.waitFor()
    await keepPicture(page, 'cards-900-light')
    await expectNothingSideways(page)
    const frame = await boxOf(page.locator('.table-frame'))
    const act = await boxOf(remake)
    expect(act.x + act.width).toBeLessThanOrEqual(frame.x + frame.width)

    await page.getByRole('link', { name: fingerprint, exact: true }).click()
    await page.getByRole('heading', { name: `Content ${fingerprint}` }).waitFor()
    const acts = await Promise.all(
      ['Compare', 'Verify a card against it', 'Remake'].map((name) =>
        boxOf(page.getByRole('link', { name, exact: true }).last()),
      ),
    )
    expect(new Set(acts.map(({ y }) => y)).size).toBe(1)
    await keepPicture(page, 'content-900-light')
    await page.context().close()
  })
})

test('the field that adds a font is empty again for the next one', async () => {
  const { page } = await withFonts()
  expect(await page.getByRole('combobox', { name: 'Add a font' }).inputValue()).toBe('')
  await page.context().close()
})

describe('a move by keys', () => {
  test('leaves on the page what it does not change: the findings, and the other fonts', async () => {
    const { page, complaints } = await withFonts()
    await page.getByRole('combobox', { name: 'Add a font' }).fill('Thornwick')
    await page.getByRole('option', { name: /^Thornwick/ }).click()
    await page.getByText(/^Not ready for the board/).waitFor()
    const finding = await page.getByRole('article').first().elementHandle()
    const row = await list(page).getByRole('listitem').last().elementHandle()
    const key = await page.getByRole('toolbar').getByRole('button').last().elementHandle()
    const { check } = demo.workshop.core
    let answered = 0
    Object.assign(demo.workshop.core, {
      check: (...asked: Parameters<typeof check>) => check(...asked).finally(() => answered++),
    })
    try {
      await page.getByRole('button', { name: /^Move Harbour Bell .* down$/ }).focus()
      await page.keyboard.press('Alt+ArrowDown')
      await page.getByText(/^Harbour Bell .* is number 2 now, of 4 fonts\.$/).waitFor()
      await eventually(() => answered).toBe(1)
    } finally {
      Object.assign(demo.workshop.core, { check })
    }
    for (const kept of [finding, row, key]) {
      expect(await kept!.evaluate((element) => element.isConnected)).toBe(true)
    }
    expect(complaints).toEqual([])
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

describe('what was made', () => {
  test.each(['light', 'dark'] as const)(
    'opens from the list and tells which font is number 2, whatever was edited later, %s',
    async (scheme) => {
      const { fingerprint } = await made(FONTS, 'shown.img')
      const { page, complaints } = await at('/cards', scheme)
      await page.getByRole('link', { name: fingerprint, exact: true }).click()
      await page.getByRole('heading', { name: `Content ${fingerprint}` }).waitFor()
      await page.getByRole('img', { name: /used by 3 fonts/ }).waitFor()
      await page.getByRole('textbox', { name: 'Which one is number' }).fill('2')
      await page.getByText(/^Ember Loom 2, folder 02-/).waitFor()
      await page.getByRole('textbox', { name: 'Which one is number' }).fill('9')
      await page.getByText('There is none of that number.').waitFor()
      await page.getByText(/^03-/).click()
      const files = page.getByRole('table', { name: /^Files of 03-/ })
      const shown = await demo.workshop.core['contents:show']({ content: fingerprint }, control)
      const hum = shown.files.find(({ path }) => path.startsWith('03-') && path.includes('hum'))!
      expect(await files.getByRole('row').filter({ hasText: hum.path }).innerText()).toContain(hum.sha256)
      await page.getByText('No finding was accepted').waitFor()
      await page.getByText(shown.imageHash).waitFor()
      await keepPicture(page, `content-${scheme}`)
      await expectNoViolation(page)
      await page.setViewportSize({ width: 640, height: 900 })
      await expectNothingSideways(page)
      await keepPicture(page, `content-narrow-${scheme}`)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('is found in the list by fingerprint, build, client or font, by keys alone', async () => {
    const { fingerprint } = await made(['Glass Meridian'], 'searched.img')
    const forBuild = await demo.workshop.core.make(
      { buildCode: 'EX-101', imagePath: join(base, 'searched-build.img'), cardBytes: 301_000_000 },
      control,
    )
    const { contents } = await demo.workshop.core['contents:list']({}, control)
    const { page, complaints } = await at('/cards')
    const rows = page.getByRole('table').getByRole('row')
    await eventually(() => rows.count()).toBe(contents.length + 1)
    await tabTo(page, /^Search cards$/)
    expect(await focusShows(page)).toBe(true)
    await page.keyboard.type(fingerprint.slice(0, 6).toLowerCase())
    await eventually(() => rows.count()).toBe(2)
    await page.getByText(new RegExp(`^1 of ${contents.length} cards`)).waitFor()
    expect(await rows.nth(1).innerText()).toContain(fingerprint)

    const field = page.getByRole('textbox', { name: 'Search cards' })
    const ofBuild = contents.filter(({ build }) => build === 'EX-101').length
    for (const words of ['ex-101', 'client a', 'harbour client']) {
      await field.fill(words)
      await page.getByText(new RegExp(`^${ofBuild} of ${contents.length} cards`)).waitFor()
      await page.getByRole('link', { name: forBuild.fingerprint, exact: true }).waitFor()
      expect(await rows.nth(1).innerText()).toMatch(/EX-101 Client A/)
    }
    await keepPicture(page, 'cards-searched-light')
    await expectNoViolation(page)
    await field.fill('no such card')
    await page.getByText('No card fits this search.').waitFor()
    await page.getByText(new RegExp(`^0 of ${contents.length} cards`)).waitFor()
    await expectNoViolation(page)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('keeps why a finding was accepted, and shows it', async () => {
    const editionIds = [await fontId('Thornwick')]
    const checked = await demo.workshop.core.check({ boardId: 'bench-44', editionIds }, control)
    const errors = checked.fonts.flatMap(({ findings }) =>
      findings.filter(({ severity }) => severity === 'error'),
    )
    const accept = errors.map(({ rule, path }) => ({ rule, path, reason: 'Heard on the bench, and good' }))
    const imagePath = join(base, 'accepted.img')
    const { fingerprint } = await demo.workshop.core.make(
      { boardId: 'bench-44', editionIds, imagePath, accept },
      control,
    )
    const { page } = await at(`/cards/contents/${fingerprint}`)
    const table = page.getByRole('table', { name: 'Accepted findings' })
    await table.waitFor()
    expect(await table.getByRole('row').count()).toBe(errors.length + 1)
    expect(await table.innerText()).toContain('Heard on the bench, and good')
    expect(await table.innerText()).toContain(errors[0]!.rule)
    await page.context().close()
  })

  test('that nobody knows is told', async () => {
    const { page } = await at('/cards/contents/0000000000')
    await page
      .getByRole('alert')
      .getByText(/no record of the content 0000000000/)
      .waitFor()
    await page.context().close()
  })
})

describe('the card that was made', () => {
  test('is verified again with how far it is, the time left and a way out, like every long act', async () => {
    const { page } = await withFonts()
    await page.getByRole('textbox', { name: /^Image file/ }).fill(join(base, 'read-again.img'))
    await page.getByRole('button', { name: 'Make the image' }).click()
    const madeCard = page.getByRole('region', { name: 'The card that was made' })
    await madeCard.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
    const { verify } = demo.workshop.core
    Object.assign(demo.workshop.core, { verify: endlessVerify })
    try {
      await madeCard.getByRole('button', { name: 'Verify again' }).click()
      await madeCard.getByText(/6 of 10 files · \d s left$/).waitFor()
      await keepPicture(page, 'verify-again-light')
      await expectNoViolation(page)
      await madeCard.getByRole('button', { name: 'Cancel', exact: true }).click()
      await madeCard.getByText('Nothing was left half-made; start again whenever you like.').waitFor()
    } finally {
      Object.assign(demo.workshop.core, { verify })
    }
    await page.context().close()
  })
})

describe('two contents', () => {
  test.each(['light', 'dark'] as const)(
    'are compared: what is on one only, and what has another number, %s',
    async (scheme) => {
      const one = await made(FONTS.slice(0, 2), 'one.img')
      const two = await made([...FONTS.slice(0, 2)].reverse().concat(FONTS[2]!), 'two.img')
      const { page, complaints } = await at(`/cards/contents/${two.fingerprint}`, scheme)
      await page.getByRole('link', { name: 'Compare' }).last().click()
      await page.getByRole('combobox', { name: 'The other' }).click()
      await page.getByRole('option', { name: new RegExp(`^${one.fingerprint}`) }).click()
      await page.getByText('They differ.').waitFor()
      const only = page.getByRole('region', { name: `Only on ${two.fingerprint}` })
      await only.getByText('Glass Meridian 1.0').waitFor()
      await page.getByText(/^Harbour Bell: number 2, then number 1$/).waitFor()
      await keepPicture(page, `compared-${scheme}`)
      await expectNoViolation(page)
      await page.setViewportSize({ width: 640, height: 900 })
      await expectNothingSideways(page)
      await page.getByRole('combobox', { name: 'The other' }).click()
      await page.getByRole('option', { name: new RegExp(`^${two.fingerprint}`) }).click()
      await page.getByText(/^No difference: \d+ files the same in both\.$/).waitFor()
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )
})

describe('a content', () => {
  test('is made again byte for byte in the window when the download is gone', async () => {
    const { fingerprint, imagePath } = await made(['Glass Meridian'], 'first.img')
    const fonts = join(base, 'demo', 'demo-fonts')
    const away = join(base, 'away')
    renameSync(fonts, away)
    try {
      const { page, complaints } = await at('/cards')
      await page.getByRole('link', { name: `Remake ${fingerprint}` }).click()
      await page.getByRole('textbox', { name: /^Image file/ }).fill(join(base, 'again.img'))
      await expectNoViolation(page)
      await page.getByRole('button', { name: 'Remake the image' }).click()
      await page.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
      await page.getByText('Take the cell out before the card goes in').waitFor()
      expect(hashOf(join(base, 'again.img'))).toBe(hashOf(imagePath))
      await keepPicture(page, 'remade-light')
      await page.getByRole('button', { name: 'Remake the image' }).click()
      await page.getByRole('region', { name: 'Image' }).getByRole('alert').waitFor()
      expect(complaints).toEqual([])
      await page.context().close()
    } finally {
      renameSync(away, fonts)
    }
  })
})

describe('a folder', () => {
  test('gets a card file by file, is left alone the second time, and nothing unknown is removed unasked', async () => {
    const { page, complaints } = await withFonts()
    await page.getByRole('radio', { name: 'into a card or a folder' }).check()
    await page.getByRole('radio', { name: 'Another folder' }).check()
    const folder = join(base, 'card-folder')
    mkdirSync(folder)
    await page.getByRole('textbox', { name: 'Folder' }).fill(folder)
    await page.getByRole('button', { name: 'Look at it' }).click()
    await page.getByText(`${folder}, a folder on a disk`).waitFor()
    await page.getByRole('button', { name: 'Write the card' }).click()
    const done = page.getByRole('region', { name: 'The card that was written' })
    await done.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
    expect(readdirSync(folder)).toEqual(
      expect.arrayContaining(['01-harbour-bell', '02-ember-loom', '03-glass-meridian']),
    )
    await page.getByRole('button', { name: 'Write the card' }).click()
    await done.getByText(/0 files of 0 B written, \d+ files right already/).waitFor({ timeout: 60_000 })

    writeFileSync(join(folder, 'letter.txt'), 'not ours')
    await page.getByRole('button', { name: 'Look at it' }).click()
    await page.getByRole('checkbox', { name: /^Remove what is there/ }).waitFor()
    expect(await page.getByRole('button', { name: 'Write the card' }).isDisabled()).toBe(true)
    await page.getByText('1 file there that no record and no plan knows').click()
    await page.getByRole('listitem').getByText('letter.txt').waitFor()
    await expectNoViolation(page)
    expect(readdirSync(folder)).toContain('letter.txt')
    await page.getByRole('checkbox', { name: /^Remove what is there/ }).check()
    await page.getByRole('button', { name: 'Write the card' }).click()
    await done.getByText('1 file taken away').waitFor({ timeout: 60_000 })
    expect(readdirSync(folder)).not.toContain('letter.txt')
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('of the system, and the home folder, are refused in words', async () => {
    const { fingerprint } = await made(['Glass Meridian'], 'refused.img')
    const { page } = await at(`/cards/remake/${fingerprint}`)
    await page.getByRole('radio', { name: 'into a card or a folder' }).check()
    await page.getByRole('radio', { name: 'Another folder' }).check()
    for (const folder of ['/', homedir()]) {
      await page.getByRole('textbox', { name: 'Folder' }).fill(folder)
      await page.getByRole('button', { name: 'Look at it' }).click()
      const alert = page.getByRole('region', { name: 'What is there' }).getByRole('alert')
      await alert.waitFor()
      expect(await page.getByRole('button', { name: 'Remake the card' }).isDisabled()).toBe(true)
    }
    await keepPicture(page, 'folder-refused-light')
    await page.context().close()
  })

  test('gets a recorded content once more', async () => {
    const { fingerprint } = await made(['Glass Meridian'], 'again-into.img')
    const folder = join(base, 'again-folder')
    mkdirSync(folder)
    const { page } = await at(`/cards/remake/${fingerprint}`)
    await page.getByRole('radio', { name: 'into a card or a folder' }).check()
    await page.getByRole('radio', { name: 'Another folder' }).check()
    await page.getByRole('textbox', { name: 'Folder' }).fill(folder)
    await page.getByRole('button', { name: 'Look at it' }).click()
    await page.getByRole('button', { name: 'Remake the card' }).click()
    const done = page.getByRole('region', { name: 'The card that was written' })
    await done.getByText('Verified: every file reads back as recorded.').waitFor({ timeout: 60_000 })
    await done.getByRole('link', { name: fingerprint, exact: true }).click()
    await page.getByRole('heading', { name: `Content ${fingerprint}` }).waitFor()
    const { verified } = await demo.workshop.core.verify({ target: folder, against: fingerprint }, control)
    expect(verified).toBe(true)
    await page.context().close()
  })
})

describe('a build', () => {
  test('shows the cards made for it, and answers from the newest which font is number 1', async () => {
    // Of a size of its own: an equal content that was made before stands on record as it was made first.
    const request = { buildCode: 'EX-101', imagePath: join(base, 'for-build.img'), cardBytes: 300_000_000 }
    const { fingerprint, fonts } = await demo.workshop.core.make(request, control)
    const { page, complaints } = await at('/builds')
    await page.getByRole('link', { name: 'EX-101' }).click()
    const cards = page.getByRole('region', { name: 'Cards made' })
    await cards.getByRole('link', { name: fingerprint, exact: true }).waitFor()
    await cards.scrollIntoViewIfNeeded()
    await keepPicture(page, 'build-cards-light')
    await expectNoViolation(page)
    await cards.getByRole('link', { name: 'Which one is number …' }).click()
    await page.getByRole('heading', { name: `Content ${fingerprint}` }).waitFor()
    await page.getByRole('textbox', { name: 'Which one is number' }).fill('1')
    await page.getByText(`${fonts[0]!.font} ${fonts[0]!.version}, folder ${fonts[0]!.folder}`).waitFor()
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('gets its fonts in order by drag, and shows meanwhile what they take', async () => {
    const { page, complaints } = await at('/builds')
    await page.getByRole('link', { name: 'EX-101' }).click()
    const rows = page.getByRole('list', { name: 'Fonts of the build, in play order' }).getByRole('listitem')
    await page.getByRole('img', { name: /used by 3 fonts/ }).waitFor()
    await rows.nth(0).scrollIntoViewIfNeeded()
    await dragBelow(page, rows.nth(0), rows.nth(1))
    await page.mouse.up()
    await page.getByText(/^Harbour Bell .* is number 2 now, of 3 fonts\.$/).waitFor()
    await keepPicture(page, 'build-order-light')
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    const { builds } = await demo.workshop.core['builds:list']({}, control)
    const build = builds.find(({ code }) => code === 'EX-101')
    expect(build?.fontEditionIds.slice(0, 2)).toEqual([
      await fontId('Ember Loom'),
      await fontId('Harbour Bell'),
    ])
    expect(complaints).toEqual([])
    await page.context().close()
  })
})

/** Reads back until it is cancelled, and is more than half through once there is a time left to tell. */
function endlessVerify(_request: unknown, { onProgress, cancel }: RunControl): Promise<never> {
  const progress = { phase: 'reading back', total: 10, unit: 'files', current: null } as const
  onProgress({ ...progress, done: 3 })
  const later = setTimeout(() => onProgress({ ...progress, done: 6 }), 2500)
  return new Promise((_resolve, reject) => {
    cancel.addEventListener('abort', () => {
      clearTimeout(later)
      reject(new Cancelled())
    })
  })
}

function hashOf(path: string): string {
  return createHash('sha256').update(readFileSync(path)).digest('hex')
}

async function expectNothingSideways(page: Page): Promise<void> {
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0)
}

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
