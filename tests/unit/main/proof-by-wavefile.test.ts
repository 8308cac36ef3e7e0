import { expect, test } from 'vitest'
import { plainHeader } from '../../../app/audio/prepare/plain-wav.ts'
import { disproof } from '../../../main/adapters/media/proof-by-wavefile.ts'

const format = { frames: 3, channels: 2, sampleRateHz: 32_000, bitDepth: 16 }

function wav(change: Partial<typeof format> = {}): Uint8Array {
  const bytes = new Uint8Array(44 + 12)
  bytes.set(plainHeader({ ...format, ...change }))
  for (let index = 44; index < bytes.length; index++) bytes[index] = index
  return bytes
}

test('what reads as it was written is not disproved, and not changed by being read', () => {
  const bytes = wav()
  expect(disproof(bytes, format)).toBeUndefined()
  expect(bytes).toEqual(wav())
  expect(Object.hasOwn(bytes, 'slice')).toBe(false)
})

test.each([
  ['another rate', wav({ sampleRateHz: 44_100 })],
  ['other channels', wav({ channels: 1 })],
  ['another depth', wav({ bitDepth: 24 })],
  ['fewer frames', wav({ frames: 2 })],
  ['no WAV at all', new Uint8Array(100)],
  ['a broken beginning', wav().fill(0, 8, 12)],
])('%s is found', (_, bytes) => {
  expect(disproof(bytes, format)).toBeTypeOf('string')
})
