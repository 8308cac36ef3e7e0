import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { boardInWords } from '../../app/boards/board-words.ts'
import { reportHtml } from '../../app/boards/report-html.ts'
import { preparingPage } from '../../app/usecases/prepare/preparing-page.ts'
import { expectNoViolation, launchBrowser } from '../support/browser.ts'
import { fontLike, judged } from '../support/judged-font.ts'
import { dryRunReport, preparedReport } from '../support/prepared-report.ts'
import { shippedBoard } from '../support/shipped-boards.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

let browser: Browser

beforeAll(async () => {
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser.close()
})

function creatorPage(): string {
  const edition = fontLike({ sounds: { 'clash-01.wav': { facts: { channels: 2 } } } })
  const { findings, verdict } = judged(edition)
  const { font, version, soundCount } = edition
  const board = shippedBoard('bench-44')
  return reportHtml({
    boardTitle: board.title,
    limits: boardInWords(board),
    fonts: [{ name: font.name, version, soundCount, findings, verdict }],
    toolVersion: '1.2.3',
  })
}

const pages = [
  { name: 'what was prepared', html: preparingPage(preparedReport) },
  { name: 'a dry run', html: preparingPage(dryRunReport) },
  { name: 'a check, for the creator', html: creatorPage() },
]

test.each(pages.flatMap((page) => (['light', 'dark'] as const).map((scheme) => ({ ...page, scheme }))))(
  'the page of $name stands on its own and is accessible on a $scheme screen',
  async ({ name, html, scheme }) => {
    const path = join(temporaryFolder(), `${name}.html`)
    writeFileSync(path, html)
    // axe runs its own script in the page, which the page's own policy would refuse.
    const context = await browser.newContext({ colorScheme: scheme, bypassCSP: true })
    const page = await context.newPage()
    const asked: string[] = []
    page.on('request', (request) => asked.push(request.url()))
    await page.goto(pathToFileURL(path).href)
    await expectNoViolation(page)
    expect(asked).toEqual([pathToFileURL(path).href])
    const sideways = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth)
    expect(sideways).toBe(false)
    await context.close()
  },
)

test('a page is dark on white in print, whatever the screen is', async () => {
  const context = await browser.newContext({ colorScheme: 'dark' })
  const page = await context.newPage()
  await page.setContent(preparingPage(preparedReport))
  const paper = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor)
  expect(await paper()).toBe('rgb(26, 26, 24)')
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
  expect(await paper()).toBe('rgb(255, 255, 255)')
  await context.close()
})
