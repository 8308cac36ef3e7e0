import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { demoWindow } from '../support/demo-window.ts'

// A computer without ffmpeg: told before anything is made, and with it what to install.

beforeAll(() => void vi.stubEnv('CARDWRIGHT_FFMPEG', '/nonexistent/ffmpeg'))
afterAll(() => void vi.unstubAllEnvs())
const demo = demoWindow()

const rowOf = (page: Page, path: string) =>
  page.getByRole('row').filter({ has: page.getByRole('link', { name: path, exact: true }) })

test('a dry run says of each sound that needs it that it cannot be made, and a run makes the others', async () => {
  const { page, complaints } = await demo.at(`/fonts/prepare/font/${await demo.fontId('Thornwick')}`)
  await page.getByRole('button', { name: 'Dry run', exact: true }).click()
  const missing = page.getByText(/ffmpeg could not be run: .* Install ffmpeg, or set CARDWRIGHT_FFMPEG/)
  await missing.waitFor()
  await page
    .getByRole('region', { name: 'Dry run' })
    .getByText('Sounds: 3 would be made, 7 left as they are, 1 cannot be made.')
    .waitFor()
  const resampled = rowOf(page, 'swing-02.wav')
  await resampled.getByText('cannot be made', { exact: true }).waitFor()
  expect(await resampled.innerText()).toContain('ffmpeg could not be run')
  await rowOf(page, 'boot.wav').getByText('to be made', { exact: true }).waitFor()
  await keepPicture(page, 'without-ffmpeg-light')
  await expectNoViolation(page)

  await page.getByRole('button', { name: 'Prepare the sounds' }).click()
  await page
    .getByRole('region', { name: 'What was prepared' })
    .getByText('Sounds: 3 made, 7 left as they are, 1 failed.')
    .waitFor()
  await missing.waitFor()
  await eventually(() => resampled.innerText()).toContain('Nothing was done of this:')
  await page
    .getByRole('region', { name: 'Jobs' })
    .getByText('Done. Sounds: 3 made, 7 left as they are, 1 failed.')
    .waitFor()
  expect(complaints).toEqual([])
  await page.context().close()
})
