import { describe, expect, test } from 'vitest'
import { noMeasures } from '../../../../app/audio/measure/no-measures.ts'
import { fontLike, judged, type SoundChange } from '../../../support/judged-font.ts'

interface Case {
  readonly what: string
  readonly sound: SoundChange
  readonly fixable: boolean
}

const foreign = { container: 'other', coding: 'other', formatTag: null, chunks: [] } as const
const undecoded = noMeasures('coding-not-decoded')

/** An original that is no plain WAV: whether preparing can mend it depends on whether it was decoded. */
const CASES: readonly Case[] = [
  { what: 'an MP3 that was decoded', sound: { facts: foreign }, fixable: true },
  { what: 'an MP3 that no decoder takes', sound: { facts: foreign, measures: undecoded }, fixable: false },
  { what: 'an MP3 without a frame', sound: { facts: { ...foreign, frames: 0 } }, fixable: false },
  {
    what: 'MP3 inside a WAV, decoded',
    sound: { facts: { coding: 'other', formatTag: 0x55 } },
    fixable: true,
  },
  {
    what: 'an unknown coding inside a WAV',
    sound: { facts: { coding: 'other', formatTag: 0x1234 }, measures: undecoded },
    fixable: false,
  },
  { what: 'A-law', sound: { facts: { coding: 'alaw' } }, fixable: true },
  {
    what: 'ADPCM without a decoder',
    sound: { facts: { coding: 'adpcm' }, measures: undecoded },
    fixable: false,
  },
  { what: 'a big-endian WAV', sound: { facts: { container: 'rifx' } }, fixable: true },
  { what: 'a WAV of 64-bit sizes', sound: { facts: { container: 'rf64' } }, fixable: true },
]

describe.each(CASES)('$what', ({ sound, fixable }) => {
  test(fixable ? 'can be prepared' : 'must be exported again', () => {
    const { findings, verdict } = judged(fontLike({ sounds: { 'clash-01.wav': sound } }))
    const own = findings.filter(({ rule }) => rule === 'container' || rule === 'coding')
    expect(own.length).toBeGreaterThan(0)
    for (const finding of own) {
      expect(finding.fixable).toBe(fixable)
      expect(finding.mend).toMatch(fixable ? /^Prepare can/ : /^Export it again/)
    }
    if (fixable) expect(verdict.word).toBe('fixable')
    else expect(verdict.word).toBe('blocked')
  })
})
