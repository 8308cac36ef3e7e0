import { describe, expect, test } from 'vitest'
import { CARD_RULES, FONT_RULES } from '../../../../app/boards/rules/all-rules.ts'
import { RULE_IDS } from '../../../../app/boards/rules/severities.ts'
import { findingsIn, FIXTURE_FONTS } from '../../../support/fixture-fonts.ts'

test('every rule of the severity table is judged, and none beside it', () => {
  const judged = [...FONT_RULES, ...CARD_RULES].map(({ id }) => id)
  expect(judged.toSorted()).toEqual(RULE_IDS.toSorted())
})

describe.each(RULE_IDS)('%s', (rule) => {
  const { fires, quiet } = FIXTURE_FONTS[rule]

  test('fires in its font, and says what is so, what comes of it and how to mend it', () => {
    const found = findingsIn(fires).filter((finding) => finding.rule === rule)
    expect(found.length).toBeGreaterThan(0)
    for (const { message, why, mend } of found)
      for (const sentence of [message, why, mend]) expect(sentence).toMatch(/^\S.*[.!?”"»]$/s)
  })

  test('stays quiet in the other', () => {
    expect(findingsIn(quiet).filter((finding) => finding.rule === rule)).toEqual([])
  })
})
