import { createHash } from 'node:crypto'
import { cpSync, readFileSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { eventually, expectNoViolation, keepPicture } from '../support/browser.ts'
import { control, demoWindow } from '../support/demo-window.ts'

const demo = demoWindow()

async function buildId(code: string): Promise<string> {
  const { builds } = await demo.workshop.core['builds:list']({}, control)
  return builds.find((build) => build.code === code)?.id ?? ''
}

async function choose(page: Page, label: string, typed: string, option: RegExp): Promise<void> {
  const field = page.getByRole('combobox', { name: label, exact: true })
  await field.click()
  await field.fill(typed)
  await page.getByRole('option', { name: option }).first().click()
}

describe('single sounds of a build', () => {
  test('are put in the place of others, left out and taken back', async () => {
    const id = await buildId('EX-101')
    const { page, complaints } = await demo.at(`/builds/${id}`)
    const part = page.getByRole('region', { name: 'Single sounds' })
    await part.getByLabel('In which font').selectOption({ label: 'Ember Loom 2' })
    await choose(page, 'Which sound', 'clash-01', /clash-01\.wav/)
    await choose(page, 'Font that lends', 'Quiet', /Quiet Foundry/)
    await choose(page, 'Its sound', 'clash', /clash-01\.wav/)
    await part.getByRole('button', { name: 'Change', exact: true }).click()
    const list = part.getByRole('list', { name: 'Single sounds of this build' })
    await list.getByText('clash-01.wav of Quiet Foundry 1.1 in the place of clash-01.wav').waitFor()

    await part.getByLabel('What to do').selectOption({ label: 'Leave a sound out' })
    await choose(page, 'Which sound', 'swing-04', /swing-04\.wav/)
    await part.getByRole('button', { name: 'Change', exact: true }).click()
    await list.getByText('swing-04.wav left out').waitFor()
    await expectNoViolation(page)
    await keepPicture(page, 'build-sounds')
    const { builds } = await demo.workshop.core['builds:list']({}, control)
    const kinds = builds.find((build) => build.id === id)?.singleSounds.map(({ kind }) => kind)
    expect(kinds).toEqual(['replaced', 'left-out'])

    await part.getByRole('button', { name: /^Take back: .*swing-04/ }).click()
    await part.getByRole('button', { name: /^Take back: .*clash-01/ }).click()
    await list.waitFor({ state: 'detached' })
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('a config stands on the build’s page as a version', async () => {
    const id = await buildId('EX-103')
    const config = { fileName: 'settings.txt', text: 'volume 7\n' }
    await demo.workshop.core['builds:change']({ id, change: { config } }, control)
    const { page } = await demo.at(`/builds/${id}`)
    const summary = page.getByText(/Version 1, settings\.txt/)
    await summary.click()
    await page.getByText('volume 7').first().waitFor()
    await page.context().close()
  })
})

describe('originals of a font', () => {
  test('that records need tell what needs them, and are not released', async () => {
    const { page } = await demo.at(`/fonts/${await demo.fontId('Harbour Bell')}`)
    await page.getByRole('tab', { name: 'Places and files' }).click()
    const part = page.getByRole('region', { name: 'Originals in the workshop' })
    await part.getByText('build EX-101').waitFor()
    expect(await part.getByRole('button', { name: 'Release them' }).isDisabled()).toBe(true)
    await expectNoViolation(page)
    await page.context().close()
  })

  test('of another font are kept, with the room they take, and released', async () => {
    const folder = join(demo.base, 'fonts', 'Slow Ferry')
    const fonts = join(demo.base, 'demo', 'demo-fonts', 'Kolmarra')
    cpSync(join(fonts, readdirSync(fonts).find((name) => name.startsWith('Quiet')) ?? ''), folder, {
      recursive: true,
    })
    for (const file of readdirSync(folder)) {
      const mark = createHash('sha256').update(file).digest().subarray(0, 1)
      const whole = readFileSync(join(folder, file))
      writeFileSync(join(folder, file), Buffer.concat([whole.subarray(0, -2), mark, Buffer.of(0)]))
    }
    await demo.workshop.core.scan({ paths: [folder] }, control)
    const { page, complaints } = await demo.at(`/fonts/${await demo.fontId('Slow Ferry')}`)
    await page.getByRole('tab', { name: 'Places and files' }).click()
    const part = page.getByRole('region', { name: 'Originals in the workshop' })
    await part.getByText(/^None of 9 files/).waitFor()
    await part.getByRole('button', { name: 'Keep its originals' }).click()
    await part.getByText(/^Kept in the workshop: 9 originals of Slow Ferry, 1\.0 MiB/).waitFor()
    await part.getByText(/^9 of 9 files kept/).waitFor()
    await keepPicture(page, 'font-originals')
    await part.getByRole('button', { name: 'Release them' }).click()
    await part.getByText(/^Released 9 files/).waitFor()
    await eventually(() => part.innerText()).toContain('None of 9 files')
    expect(complaints).toEqual([])
    await page.context().close()
  })

  test('that a new licence brings in are told among the jobs', async () => {
    const { page } = await demo.at('/builds/licences/new')
    await choose(page, 'Font', 'Slow', /Slow Ferry/)
    await page.getByRole('button', { name: 'Add' }).click()
    const jobs = page.getByRole('region', { name: 'Jobs' })
    await jobs.getByText(/Kept in the workshop: 9 originals of Slow Ferry/).waitFor()
    await page.context().close()
  })
})
