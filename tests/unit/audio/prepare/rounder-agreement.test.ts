import fc from 'fast-check'
import { expect, test } from 'vitest'
import { plainRounder } from '../../../../app/audio/prepare/plain-rounder.ts'
import type { RoundingSetup, SampleRounder } from '../../../../app/ports/sample-rounder.ts'
import { openRounder } from '../../../../main/workers/open-rounder.ts'
import { SEED } from '../../../support/prepare-by-recipe.ts'
import { seededRandom } from '../../../support/signals.ts'

/** Everything that is special to rounding, among samples of all sizes. */
const ODD = [0, -0, 1, -1, 0.5 / 32_768, -0.5 / 32_768, 1.00001, -1.00001, 7, -7, 1 - 2 ** -31, 1e-300, NaN]

function samplesOf(channels: number, frames: number, seed: number): Float64Array[] {
  const random = seededRandom(seed)
  return Array.from({ length: channels }, () =>
    Float64Array.from({ length: frames }, () =>
      random() < 0.1 ? (ODD[Math.floor(random() * ODD.length)] ?? 0) : (random() - 0.5) * 2 ** (3 * random()),
    ),
  )
}

function roundedBy(rounder: SampleRounder, setup: RoundingSetup, blocks: readonly Float64Array[][]) {
  rounder.begin(setup)
  return blocks.map((block) => {
    const { bytes, cutSamples } = rounder.round(block, block[0]?.length ?? 0)
    return { bytes: Buffer.from(bytes).toString('hex'), cutSamples }
  })
}

test('the fast and the plain rounding give the same bytes, whatever the samples', () => {
  const fast = openRounder()
  const plain = plainRounder()
  const cases = fc.record({
    channels: fc.integer({ min: 1, max: 10 }),
    bitDepth: fc.constantFrom(8, 16, 24, 32),
    ditherSeed: fc.constantFrom(null, SEED, SEED.replaceAll('1', 'f')),
    gain: fc.constantFrom(1, 0.25, 10 ** (7.3 / 20)),
    frames: fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 3 }),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })
  fc.assert(
    fc.property(cases, ({ channels, bitDepth, gain, ditherSeed, frames, seed }) => {
      const blocks = frames.map((count, index) => samplesOf(channels, count, seed + index))
      const setup = { channels, bitDepth, gain, ditherSeed }
      expect(roundedBy(fast, setup, blocks)).toEqual(roundedBy(plain, setup, blocks))
    }),
    { numRuns: 200 },
  )
})
