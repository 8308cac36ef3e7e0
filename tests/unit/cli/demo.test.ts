import { readFileSync, statSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoScenario, demoWorkshop } from '../../support/demo-workshop.ts'
import { runCli } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder])
const checkedFont = (name: string) => demo.report.fonts.find((font) => font.font === name)!

describe('the demo workshop', () => {
  test('holds the fonts of the scenario, each by its creator', async () => {
    const run = await cli('fonts', 'list', '--json')
    const { fonts } = JSON.parse(run.stdout) as ResponseOf<'fonts:list'>
    const found = fonts.map((font) => [font.font.name, font.version, font.font.creatorName])
    const wanted = demoScenario.fonts.map((font) => [font.name, font.version, font.creator])
    expect(found.toSorted()).toEqual(wanted.toSorted())
  })

  test.each(demoScenario.faults)('the fault in $font ($path) is found by the rule $rule', (fault) => {
    const { findings } = checkedFont(fault.font)
    const found = findings.filter((finding) => finding.rule === fault.rule)
    const isGap = fault.plant.leftOut === true
    const rightOnes = fault.path === null || isGap ? found : found.filter(({ path }) => path === fault.path)
    expect(rightOnes).not.toEqual([])
  })

  test('has no other font with an error or a warning than those with a fault on purpose', () => {
    const faulty = new Set(demoScenario.faults.map((fault) => fault.font))
    const clean = demo.report.fonts.filter((font) => !faulty.has(font.font))
    expect(clean).toHaveLength(3)
    for (const { verdict } of clean) {
      expect(verdict).toMatchObject({ word: 'ready', errorCount: 0, warningCount: 0 })
    }
  })

  test('finds nothing in a faulty font that was not planted there', () => {
    for (const { font, findings } of demo.report.fonts) {
      const planted = new Set(
        demoScenario.faults.filter((fault) => fault.font === font).map((fault) => fault.rule),
      )
      // A sound that is clipped on purpose is too loud besides, a number left out moves names on, and
      // what a licence says is no fault.
      const follows = [
        'level',
        'level-spread',
        'true-peak',
        'scheme-name',
        'licence-credit',
        'trailing-silence',
      ]
      const others = findings.filter(({ rule }) => !planted.has(rule) && !follows.includes(rule))
      expect(others).toEqual([])
    }
  })

  test('its first card is that of the first build, verified, and sparse on the disk', () => {
    const { make } = demo.report
    const build = demoScenario.builds.find(({ code }) => code === demoScenario.firstCard.build)!
    expect(make).toMatchObject({ verified: true, build: build.code, withoutLicence: [] })
    expect(make.fonts.map((font) => font.font)).toEqual(build.fonts)
    const { size, blocks } = statSync(make.imagePath)
    expect(size).toBe(make.imageBytes)
    expect(size).toBeLessThanOrEqual(demoScenario.firstCard.cardBytes)
    expect(blocks * 512).toBeLessThan(size / 4)
  })

  test('says what each font that is not on the card waits for', () => {
    const onCard = new Set(demo.report.make.fonts.map((font) => font.font))
    const { waiting } = demo.report
    expect(waiting.map(({ font }) => font).toSorted()).toEqual(
      demoScenario.fonts
        .map(({ name }) => name)
        .filter((name) => !onCard.has(name))
        .toSorted(),
    )
    expect(waiting.every(({ reasons }) => reasons.length > 0)).toBe(true)
  })

  test('made again adds nothing twice and gives the same image', async () => {
    const before = readFileSync(demo.report.make.imagePath)
    const run = await cli('demo', '--json')
    expect(run.code).toBe(0)
    const again = JSON.parse(run.stdout) as ResponseOf<'demo:prepare'>
    expect(again.make.fingerprint).toBe(demo.report.make.fingerprint)
    expect(again.make.imageHash).toBe(demo.report.make.imageHash)
    expect(readFileSync(demo.report.make.imagePath).equals(before)).toBe(true)
    const { builds } = JSON.parse((await cli('builds', 'list', '--json')).stdout) as ResponseOf<'builds:list'>
    expect(builds).toHaveLength(demoScenario.builds.length)
    const { licences } = JSON.parse(
      (await cli('licences', 'list', '--json')).stdout,
    ) as ResponseOf<'licences:list'>
    expect(licences).toHaveLength(demoScenario.licences.length - 1)
  })
})
