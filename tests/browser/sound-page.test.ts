import { describe, expect, test } from 'vitest'
import { expectNoViolation, keepPicture } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'

const { at, fontId } = demoWindow()

describe('the page of a sound', () => {
  test.each(['light', 'dark'] as const)(
    'shows its outline from the stored waveform, its facts and measures, and plays (%s)',
    async (scheme) => {
      const { page } = await at(`/fonts/${await fontId('Thornwick')}`, scheme)
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
