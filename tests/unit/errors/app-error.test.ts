import { describe, expect, test } from 'vitest'
import { AppError, fromReport, inLines, toReport } from '../../../app/errors/app-error.ts'

const report = {
  code: 'target/file-system',
  what: 'The board cannot read it.',
  where: '/media/card',
  mend: 'Format it.',
}
const steps = [
  { step: 'Copy off what is wanted.', ways: [] },
  { step: 'Format it.', ways: ['Here: so.', 'There: otherwise.'] },
]

describe('an error whose mend takes several steps', () => {
  test('is told as its sentence with the steps numbered below, and their ways marked', () => {
    expect(inLines({ ...report, steps })).toEqual([
      '/media/card: The board cannot read it. Format it.',
      '  1. Copy off what is wanted.',
      '  2. Format it.',
      '     - Here: so.',
      '     - There: otherwise.',
    ])
  })

  test('keeps its steps over a thread or a door', () => {
    const sent = structuredClone(toReport(new AppError({ ...report, steps, kind: 'unmet' })))
    expect(fromReport(sent)).toMatchObject({ ...report, steps, kind: 'unmet' })
  })
})

test('an error with a mend of one step is one line, and its report names no steps', () => {
  expect(inLines(report)).toEqual(['/media/card: The board cannot read it. Format it.'])
  expect(toReport(new AppError(report))).toEqual({ ...report, kind: 'input' })
})
