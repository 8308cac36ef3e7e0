import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'

// What a board is known to take, in the window: learned in the hilt, as it was for old cards, asked of a card
// as it lies there; and rules that a build weighs otherwise.

const demo = demoWindow()
const { base, at } = demo

const ownBoard = (boardId: string) =>
  demo.workshop.core['boards:new']({ boardId, title: `Own ${boardId}`, parentId: 'bench-44' }, control)

describe('sounds that were tried in the hilt', () => {
  test.each(['light', 'dark'] as const)('move the limits of a board of the workshop, %s', async (scheme) => {
    const boardId = `pupil-${scheme}`
    await ownBoard(boardId)
    const { page, complaints } = await at(`/boards/${boardId}`, scheme)
    await page.getByRole('link', { name: 'Tried in the hilt' }).click()
    const mark = async (sound: string, button: string) => {
      await page.getByRole('combobox', { name: 'Its sound' }).click()
      await page.getByRole('option', { name: sound }).click()
      await page.getByRole('button', { name: button }).click()
    }
    await page.getByRole('combobox', { name: 'Font' }).click()
    await page.getByRole('option', { name: 'Thornwick' }).click()
    await mark('hum.wav', 'The sound was heard')
    await mark('boot.wav', 'The sound stayed silent')
    await keepPicture(page, `board-tried-${scheme}`)
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Move the limits by it' }).click()
    await page.getByText('Limits were moved, and are kept in the board file.').waitFor()
    await page.getByRole('region', { name: 'Jobs' }).getByText('Learn from sounds').waitFor()
    await keepPicture(page, `board-learned-${scheme}`)
    await expectNoViolation(page)
    const { board } = await demo.workshop.core['boards:show']({ boardId }, control)
    expect(board.known['audio.bitDepths']).toBe('seen failing')
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('never move a shipped one, which says what to do instead', async () => {
    const { page } = await at('/boards/learn/bench-44')
    await page.getByText('A shipped board is never changed.').waitFor()
    expect(await page.getByRole('button', { name: 'Move the limits by it' }).count()).toBe(0)
    await page.getByRole('link', { name: 'Make one from it' }).click()
    await page.getByRole('textbox', { name: 'Id of the board' }).waitFor()
    await page.context().close()
  })
})

describe('a board that was changed after a card was made with it', () => {
  test.each(['light', 'dark'] as const)(
    'is shown as it was, and what has changed since, %s',
    async (scheme) => {
      const { core } = demo.workshop
      const boardId = `aged-${scheme}`
      const { text } = await ownBoard(boardId)
      const request = {
        boardId,
        editionIds: [await demo.fontId('Harbour Bell')],
        imagePath: `${boardId}.img`,
      }
      const { fingerprint } = await core.make(request, control)
      await core['boards:save']({ boardId, text: `${text}\nlevels:\n  ceilingDbtp: -3\n` }, control)
      const { page, complaints } = await at(`/boards/${boardId}`, scheme)
      const versions = page.getByRole('table', { name: 'As cards were made with it' })
      await versions.getByText(fingerprint).waitFor()
      await versions.getByText('changed since').waitFor()
      await expectNoViolation(page)
      await versions.getByRole('link').first().click()
      await page.getByRole('heading', { name: `Own ${boardId}, as it was` }).waitFor()
      await page.getByText('They differ in 1 limit.').waitFor()
      const differences = page.getByRole('table', { name: 'Differences' })
      expect(await differences.innerText()).toMatch(/-1 dBTP[\s\S]*-3 dBTP/)
      // The text is whole: what the board took over from another is in it.
      const kept = page.getByRole('region', { name: 'Text of the board file' })
      expect(await kept.innerText()).toContain('sampleRatesHz')
      expect(await kept.innerText()).not.toContain('extends')
      await keepPicture(page, `board-as-it-was-${scheme}`)
      await expectNoViolation(page)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )
})

describe('a card as it lies there', () => {
  test.each(['light', 'dark'] as const)('is checked for a board, font by font, %s', async (scheme) => {
    const { page, complaints } = await at('/boards', scheme)
    await page.getByRole('link', { name: 'Check a card' }).click()
    await page
      .getByRole('textbox', { name: /^Folder or image of the card/ })
      .fill(join(base, 'demo', 'demo-fonts', 'Kolmarra'))
    await page.getByRole('combobox', { name: 'For the board' }).click()
    await page.getByRole('option', { name: 'Bench 32' }).click()
    await page.getByRole('button', { name: 'Check the card' }).click()
    await page.getByText(/^Bench 32 does not play all of this card/).waitFor()
    const font = page.getByRole('region', { name: 'Thornwick v3' })
    await eventually(() => font.innerText()).toMatch(/The sample rate is 44100 Hz; the board plays 32000 Hz/)
    await page.getByRole('region', { name: 'Jobs' }).getByText('Check a card').waitFor()
    await keepPicture(page, `card-in-place-${scheme}`)
    await expectNoViolation(page)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('without a sound is told in one sentence', async () => {
    const empty = join(base, 'empty-card')
    mkdirSync(empty)
    const { page } = await at('/boards/check/card')
    await page.getByRole('textbox', { name: /^Folder or image of the card/ }).fill(empty)
    await page.getByRole('button', { name: 'Check the card' }).click()
    const alert = page.locator('form').getByRole('alert')
    await alert.waitFor()
    expect(await alert.innerText()).toContain(empty)
    await page.context().close()
  })
})

describe('a page for the creator of a font', () => {
  test.each(['light', 'dark'] as const)('is written where it is told, %s', async (scheme) => {
    const { page, complaints } = await at(`/fonts/${await demo.fontId('Thornwick')}`, scheme)
    await page.getByText('A page for its creator').first().click()
    const path = join(base, `thornwick-${scheme}.html`)
    const field = page.getByRole('textbox', { name: /^Write it to/ })
    expect(await field.inputValue()).toBe('Thornwick 3, bench-44.html')
    await field.fill(path)
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Write the page' }).click()
    await page.getByText('The page was written.').waitFor()
    await keepPicture(page, `page-for-creator-${scheme}`)
    const html = readFileSync(path, 'utf8')
    expect(html).toContain('Thornwick')
    expect(html).not.toMatch(/<script|Client [ABC]/)
    expect(html).not.toContain(base)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('is printed on sheets of A4 with nothing cut off, and fetches nothing', async () => {
    const core = demo.workshop.core
    const { fonts } = await core['fonts:list']({}, control)
    const editionIds = fonts.map(({ id }) => id)
    const reportPath = join(base, 'all-fonts.html')
    await core['check:report']({ boardId: 'bench-32', editionIds, reportPath }, control)
    const context = await demo.browser.newContext({ viewport: { width: 680, height: 1000 } })
    const page = await context.newPage()
    const fetched: string[] = []
    page.on('request', (request) => fetched.push(request.url()))
    await page.goto(pathToFileURL(reportPath).href)
    await page.emulateMedia({ media: 'print' })
    expect(fetched).toEqual([pathToFileURL(reportPath).href])
    // 680 pixels are the 180 mm between the margins of the sheet.
    const wide = await page.evaluate('document.documentElement.scrollWidth')
    expect(wide).toBeLessThanOrEqual(680)
    const heads = await page.evaluate("getComputedStyle(document.querySelector('thead')).display")
    expect(heads).toBe('table-header-group')
    expect(await page.evaluate('document.scripts.length')).toBe(0)
    await expectNoViolation(page)
    const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true })
    const sheets = pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0
    expect(sheets).toBeGreaterThan(2)
    await context.close()
  })
})

describe('a build', () => {
  test.each(['light', 'dark'] as const)('weighs rules otherwise, for a reason, %s', async (scheme) => {
    const { core } = demo.workshop
    const { builds } = await core['builds:list']({}, control)
    const build = builds.find(({ code }) => code === 'EX-102')!
    await core['builds:change']({ id: build.id, change: { ruleChanges: [] } }, control)
    const { page, complaints } = await at(`/builds/${build.id}`, scheme)
    await page.getByRole('combobox', { name: 'Weigh another rule otherwise' }).fill('bit-d')
    await page.getByRole('option', { name: /^bit-depth/ }).click()
    const rule = page.getByRole('group', { name: 'Rule bit-depth' })
    await rule.getByRole('combobox', { name: 'bit-depth' }).selectOption('off')
    await page.getByRole('textbox', { name: 'Reason for bit-depth' }).fill('heard in the hilt')
    await keepPicture(page, `build-rules-${scheme}`)
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    const report = await core.check({ buildCode: 'EX-102' }, control)
    const thornwick = report.fonts.find(({ font }) => font === 'Thornwick')!
    expect(thornwick.findings.filter((finding) => finding.rule === 'bit-depth')).toMatchObject([
      { severity: 'note', path: null, why: 'The reason given: heard in the hilt.' },
    ])
    await rule.getByRole('button', { name: /^Take back/ }).click()
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    const after = await core['builds:list']({}, control)
    expect(after.builds.find(({ code }) => code === 'EX-102')?.ruleChanges).toEqual([])
    expect(complaints).toEqual([])
    await page.context().close()
  })
})

describe('rules that a board weighs otherwise', () => {
  test('are told with their reason among all others', async () => {
    const { text } = await ownBoard('lenient')
    const rules = 'rules: { clipped: { severity: off, reason: it is meant } }\n'
    await demo.workshop.core['boards:save']({ boardId: 'lenient', text: `${text}${rules}` }, control)
    const { page, complaints } = await at('/boards/lenient')
    await page.getByText(/^\d+ rules that fonts are judged by, 1 of them weighed otherwise/).click()
    const line = page.getByRole('table', { name: 'Rules' }).getByRole('row').filter({ hasText: 'clipped' })
    expect(await line.innerText()).toMatch(/off[\s\S]*By this board: it is meant\./)
    await keepPicture(page, 'board-rules')
    await expectNoViolation(page)
    expect(complaints).toEqual([])
    await page.context().close()
  })
})

describe('board files that cannot be used', () => {
  test('are told where the boards are', async () => {
    await ownBoard('neighbour')
    writeFileSync(join(base, 'demo', 'boards', 'torn.yaml'), 'board: { id: torn, title: Torn }\naudoi: {}\n')
    const { page } = await at('/boards')
    const note = page.getByRole('listitem').filter({ hasText: 'torn.yaml' })
    await note.waitFor()
    expect(await note.innerText()).toMatch(
      /line 2, column 1: "audoi" is not known here\. Did you mean "audio"/,
    )
    await page.context().close()
  })
})
