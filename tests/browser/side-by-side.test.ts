import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { launchBrowser, openPage } from '../support/browser.ts'
import { runCli } from '../support/run-cli.ts'
import { startApp, type StartedApp } from '../support/start-app.ts'

// The program as `npm start` runs it, a real browser, and the command line: three processes at one workshop.

const base = mkdtempSync(join(tmpdir(), 'cardwright-side-by-side-'))
const folder = join(base, 'workshop')
let browser: Browser
let app: StartedApp
let page: Page
let complaints: readonly string[]
const cli = (...args: string[]) => runCli([...args, '--workshop', folder], { cwd: base })

beforeAll(async () => {
  expect((await cli('demo')).code).toBe(0)
  const [launched, started] = await Promise.all([launchBrowser(), startApp(folder)])
  browser = launched
  app = started
  ;({ page, complaints } = await openPage(browser, app.url))
})
afterAll(async () => {
  await browser?.close()
  await app?.end()
  rmSync(base, { recursive: true, force: true })
})

const goTo = (place: string) => page.goto(`${new URL(app.url).origin}/#${place}`)

test('what the command line records stands in the open window without a touch', async () => {
  await goTo('/builds')
  const row = page.getByText('Quay bench')
  expect(await row.count()).toBe(0)
  const added = await cli('builds', 'add', 'SB-77', '--client', 'Quay bench', '--board', 'bench-44')
  expect(added.code, added.stderr).toBe(0)
  await row.first().waitFor()
})

test('a card that the command line makes comes up among the cards, while the window works on', async () => {
  await goTo('/cards')
  await page.getByRole('heading', { level: 1 }).first().waitFor()
  const run = await cli('make', 'Ember Loom', 'Harbour Bell', '--image', join(base, 'card.img'), '--json')
  expect(run.code, run.stderr).toBe(0)
  const { fingerprint } = JSON.parse(run.stdout) as { fingerprint: string }
  await page.getByText(fingerprint).first().waitFor()
  expect(complaints).toEqual([])
})

test('a board that the command line adds stands among the boards of the open window', async () => {
  await goTo('/boards')
  await page.getByText('Bench 44').first().waitFor()
  const words = ['boards', 'new', 'quay-44', '--extends', 'bench-44', '--title', 'Board of the quay']
  const added = await cli(...words)
  expect(added.code, added.stderr).toBe(0)
  await page.getByText('Board of the quay').first().waitFor()
})

test('what the window records, the command line tells', async () => {
  const created = await page.evaluate(async () => {
    const response = await fetch('/call/creators:add', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'Ottilie Grau', contact: '', note: '' }),
    })
    return (await response.json()) as { ok: boolean }
  })
  expect(created).toMatchObject({ ok: true })
  expect((await cli('creators', 'list')).stdout).toContain('Ottilie Grau')
})
