import { describe, expect, test } from 'vitest'
import type { RuleChange } from '../../../../app/model/finding.ts'
import type { Build } from '../../../../app/model/records.ts'
import { fontsToPrepare } from '../../../../app/usecases/prepare/fonts-to-prepare.ts'
import { fontLike } from '../../../support/judged-font.ts'
import { plainBuild } from '../../../support/plain-build.ts'
import { shippedBoard, shippedBoardText } from '../../../support/shipped-boards.ts'
import { shippedScheme } from '../../../support/shipped-schemes.ts'

const board = shippedBoard('bench-44')
const edition = fontLike({ sounds: { 'clash-01.wav': { facts: { channels: 2 } } } })

function inHandFor(ruleChanges: readonly RuleChange[]) {
  const said = plainBuild({ boardId: board.id, fontEditionIds: [edition.id], ruleChanges })
  const build: Build = { ...said, id: 'b', singleSounds: [] }
  const scheme = shippedScheme(board.names.scheme)
  const order = { board, boardText: shippedBoardText(board.id), scheme, build, editions: [edition] }
  const [font] = fontsToPrepare(order, { lowLimitHz: null, levelOf: () => null }, new Set(), [])
  const clash = font!.font.sounds.find(({ path }) => path === 'clash-01.wav')
  return { verdict: font!.judged.verdict.word, steps: clash!.findings.map(({ rule }) => rule) }
}

describe('a rule that a build makes light of', () => {
  test('leaves the verdict to the build, and the steps to the board: what is prepared is for all its builds', () => {
    expect(inHandFor([])).toEqual({ verdict: 'fixable', steps: ['channels'] })
    for (const severity of ['off', 'note'] as const) {
      const change = { rule: 'channels', severity, reason: 'it plays in this hilt' }
      expect(inHandFor([change]), severity).toEqual({ verdict: 'ready', steps: ['channels'] })
    }
  })
})
