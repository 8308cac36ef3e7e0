import { mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'

// Boards of the workshop in the window: made, edited, compared, drafted.

const demo = demoWindow()
const { base, at } = demo

const ownBoard = (boardId: string) =>
  demo.workshop.core['boards:new']({ boardId, title: `Own ${boardId}`, parentId: 'bench-44' }, control)

describe('a board of the workshop', () => {
  test('is made from a shipped one, and opens for editing', async () => {
    const { page, complaints } = await at('/boards/bench-32')
    await page.getByRole('link', { name: 'Make one from it' }).click()
    await page.getByRole('textbox', { name: 'Id of the board' }).fill('own-made')
    await page.getByRole('textbox', { name: 'Title of the board' }).fill('Made in the window')
    await keepPicture(page, 'board-new')
    await expectNoViolation(page)
    await page.getByRole('button', { name: 'Make the board' }).click()
    await page.getByRole('heading', { name: 'Made in the window' }).waitFor()
    expect(await page.getByRole('textbox', { name: 'Text of the board file' }).inputValue()).toContain(
      'extends: bench-32',
    )
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('is not made a second time over the first', async () => {
    const { path } = await ownBoard('own-first')
    const before = readFileSync(path, 'utf8')
    const { page } = await at('/boards/make/new')
    await page.getByRole('textbox', { name: 'Id of the board' }).fill('own-first')
    await page.getByRole('textbox', { name: 'Title of the board' }).fill('Another')
    await page.getByRole('button', { name: 'Make the board' }).click()
    await page.getByRole('alert').waitFor()
    expect(readFileSync(path, 'utf8')).toBe(before)
    await page.context().close()
  })

  test.each(['light', 'dark'] as const)(
    'tells faults at their line with a suggestion, and is not kept while it has any, %s',
    async (scheme) => {
      const { path, text } = await ownBoard(`own-${scheme}`)
      const { page, complaints } = await at(`/boards/own-${scheme}`, scheme)
      const field = page.getByRole('textbox', { name: 'Text of the board file' })
      await field.waitFor()
      await expectNoViolation(page)
      const faulty = `${text}\naudio:\n  chanels: [1]\n`
      await field.fill(faulty)
      const line = faulty.split('\n').findIndex((each) => each.includes('chanels')) + 1
      const fault = page.getByRole('listitem').filter({ hasText: `Line ${line}, column 3` })
      await fault.waitFor()
      expect(await fault.innerText()).toMatch(/[Dd]id you mean "channels"/)
      expect(await page.getByRole('button', { name: 'Keep the text' }).isDisabled()).toBe(true)
      await fault.getByRole('button').click()
      const position = await field.evaluate((node) => (node as HTMLTextAreaElement).selectionStart)
      expect(faulty.slice(position)).toMatch(/^chanels/)
      await keepPicture(page, `board-faults-${scheme}`)
      await expectNoViolation(page)
      expect(readFileSync(path, 'utf8')).toBe(text)
      expect(complaints).toEqual([])
      await page.context().close()
    },
  )

  test('shows in words what its text says while it is edited, and is kept when told', async () => {
    const { path, text } = await ownBoard('own-edited')
    const { page } = await at('/boards/own-edited')
    const changed = `${text}\naudio:\n  sampleRatesHz: [32000]\n`
    await page.getByRole('textbox', { name: 'Text of the board file' }).fill(changed)
    await page.getByText('Not kept yet.').waitFor()
    await page.getByRole('link', { name: 'Fonts' }).click()
    await page.getByRole('heading', { name: 'Fonts' }).waitFor()
    await page.goBack()
    await page.getByText('Not kept yet.').waitFor()
    const words = page.getByRole('region', { name: 'In words' })
    await eventually(() => words.innerText()).toMatch(/32[.,]?0* ?(000 Hz|kHz)/)
    await page.getByRole('button', { name: 'Keep the text' }).click()
    await page.getByText('Kept as it stands here.').waitFor()
    expect(readFileSync(path, 'utf8')).toBe(changed)
    await page.getByRole('textbox', { name: 'Text of the board file' }).fill('board: {}')
    await page.getByText('this text cannot be kept yet').waitFor()
    await page.getByRole('button', { name: 'Take the changes back' }).click()
    await page.getByText('Kept as it stands here.').waitFor()
    expect(readFileSync(path, 'utf8')).toBe(changed)
    await page.context().close()
  })
})

describe('two boards', () => {
  test.each(['light', 'dark'] as const)('are compared limit by limit, %s', async (scheme) => {
    const { page, complaints } = await at('/boards/compare/with/bench-44', scheme)
    await page.getByRole('combobox', { name: 'The other' }).click()
    await page.getByRole('option', { name: 'Bench 32' }).click()
    const request = { boardIdA: 'bench-44', boardIdB: 'bench-32' }
    const { differences } = await demo.workshop.core['boards:diff'](request, control)
    await page.getByText(`They differ in ${differences.length} limits.`).waitFor()
    const table = page.getByRole('table', { name: 'Differences' })
    await eventually(() => table.getByRole('row').count()).toBe(differences.length + 1)
    const [first] = differences
    expect(await table.innerText()).toContain(first!.b.words)
    await keepPicture(page, `boards-compared-${scheme}`)
    await expectNoViolation(page)
    expect(complaints).toEqual([])
    await page.context().close()
  })
})

describe('a card that plays', () => {
  test.each(['light', 'dark'] as const)('gives a first board, all of it seen playing, %s', async (scheme) => {
    const card = join(base, 'demo', 'demo-fonts', 'Varnisk')
    const { page, complaints } = await at('/boards', scheme)
    await page.getByRole('link', { name: 'Draft one from a card' }).click()
    await page.getByRole('textbox', { name: /^Folder or image of the card/ }).fill(card)
    await page.getByRole('textbox', { name: 'Id of the board' }).fill(`drafted-${scheme}`)
    await page.getByRole('textbox', { name: 'Title of the board' }).fill(`Drafted ${scheme}`)
    await page.getByRole('button', { name: 'Draft the board' }).click()
    await page.getByText(/was drafted from \d+ sounds in \d+ fonts?\./).waitFor({ timeout: 60_000 })
    await page.getByRole('region', { name: 'Jobs' }).getByText('Draft a board').waitFor()
    const words = page.getByRole('region', { name: 'In words' })
    expect(await words.innerText()).toContain('seen playing')
    await keepPicture(page, `board-drafted-${scheme}`)
    await expectNoViolation(page)
    await page.getByRole('link', { name: 'Edit its text' }).click()
    await page.getByRole('textbox', { name: 'Text of the board file' }).waitFor()
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('is asked for where a folder holds no sound', async () => {
    const { page } = await at('/boards/make/draft')
    const folder = join(base, 'silent')
    mkdirSync(folder)
    await page.getByRole('textbox', { name: /^Folder or image of the card/ }).fill(folder)
    await page.getByRole('textbox', { name: 'Id of the board' }).fill('from-nothing')
    await page.getByRole('textbox', { name: 'Title of the board' }).fill('From nothing')
    await page.getByRole('button', { name: 'Draft the board' }).click()
    const alert = page.locator('form').getByRole('alert')
    await alert.waitFor()
    expect(await alert.innerText()).toContain(folder)
    expect(await alert.innerText()).toContain('no sound')
    await page.context().close()
  })
})
