import { describe, expect, test } from 'vitest'
import { progressLine, progressReport } from '../../../main/cli/progress-report.ts'

const at = (done: number, phase = 'reading sounds') =>
  ({ phase, done, total: 400, unit: 'files', current: 'Ember/hum.wav' }) as const

describe('progress for people', () => {
  test('tells the count and the time left, once that is no guess', () => {
    expect(progressLine(at(100), 1500)).toBe('reading sounds: 100 of 400 files (Ember/hum.wav)')
    expect(progressLine(at(100), 4000)).toBe('reading sounds: 100 of 400 files, 12 s left (Ember/hum.wav)')
    expect(progressLine({ ...at(1), current: null }, 10_000)).toBe(
      'reading sounds: 1 of 400 files, 67 min left',
    )
  })

  test('cannot move the cursor by the name of a file', () => {
    expect(progressLine({ ...at(1), current: 'a\u001b[2J.wav' }, 0)).toContain('(a\\x1b[2J.wav)')
  })

  test('off a terminal is a plain line a phase, and one every five seconds', () => {
    let now = 0
    const written: string[] = []
    const { onProgress, end } = progressReport({
      isTerminal: false,
      columns: 80,
      write: (text) => written.push(text),
      now: () => now,
    })
    for (let done = 0; done <= 100; done++) {
      now = done * 100
      onProgress(at(done))
    }
    onProgress(at(0, 'writing the image'))
    end()
    expect(written).toHaveLength(4)
    expect(written.every((line) => line.endsWith('\n') && !line.includes('\u001b'))).toBe(true)
  })

  test('on a terminal renews one line and clears it at the end', () => {
    const written: string[] = []
    const { onProgress, end } = progressReport({
      isTerminal: true,
      columns: 30,
      write: (text) => written.push(text),
      now: () => 0,
    })
    onProgress(at(1))
    end()
    expect(written[0]).toMatch(/^\r\u001b\[2K.{29}$/)
    expect(written.at(-1)).toBe('\r\u001b[2K')
  })
})
