import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { RunControl } from '../../app/ports/progress.ts'
import type { LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import { openWorkshop, type Workshop } from '../../main/workshop.ts'
import { expectNoViolation, keepPicture, launchBrowser, openPage } from '../support/browser.ts'
import { serveWindow } from '../support/served-window.ts'

const base = mkdtempSync(join(tmpdir(), 'cardwright-sound-'))
const control: RunControl = { onProgress: () => undefined, cancel: new AbortController().signal }
let browser: Browser
let workshop: Workshop
let door: LoopbackDoor

beforeAll(async () => {
  browser = await launchBrowser()
  workshop = await openWorkshop({ folder: join(base, 'demo') })
  await workshop.core['demo:prepare']({}, control)
  door = await serveWindow(workshop.core, workshop.openSound)
})
afterAll(async () => {
  await browser?.close()
  await door?.close()
  await workshop?.close()
  rmSync(base, { recursive: true, force: true })
})

describe('the page of a sound', () => {
  test.each(['light', 'dark'] as const)(
    'shows its outline from the stored waveform, its facts and measures, and plays (%s)',
    async (scheme) => {
      const opened = await openPage(browser, door.newUrl(), scheme)
      const { page } = opened
      const { fonts } = await workshop.core['fonts:list']({}, control)
      const editionId = fonts.find((row) => row.font.name === 'Thornwick')?.id
      await page.goto(`${new URL(door.url).origin}/#/fonts/${editionId}`)
      await page.getByRole('tab', { name: /^Sounds/ }).click()
      await page.getByRole('link', { name: 'retract-01.wav' }).click()
      await page.getByRole('heading', { level: 1, name: 'retract-01.wav' }).waitFor()
      const outline = page.getByRole('img', { name: /^Waveform: 0\.90 s, highest at \d+ % of full scale$/ })
      await outline.waitFor()
      expect(await outline.locator('path.waveform-outline').getAttribute('d')).toMatch(
        /^M0,-?\d+(L\d+,-?\d+)+Z$/,
      )
      await page.getByText('44100 Hz').waitFor()
      await page.getByText(/^fmt at 12, note at 36, data at 78$/).waitFor()
      await page
        .getByText(/^−20\.4 LUFS$/)
        .first()
        .waitFor()
      await page
        .getByText(/^none: it is shorter than 3 s$/)
        .first()
        .waitFor()
      await page.getByText('No other file of the library holds these samples.').waitFor()
      await page.getByRole('button', { name: 'Play' }).click()
      await page.getByRole('button', { name: /Stop|Play/ }).waitFor()
      expect(await page.getByRole('alert').count()).toBe(0)
      await keepPicture(page, `sound-${scheme}`)
      await expectNoViolation(page)
      await page.context().close()
    },
  )
})
