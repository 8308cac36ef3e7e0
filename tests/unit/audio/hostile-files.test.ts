import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { inspected } from '../../support/inspected.ts'
import { mutatedWav, wavCorpus } from '../../support/mutated-wav.ts'

const corpus = wavCorpus()

/** Whether no number in it is something that JSON cannot say. */
function isSayable(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  return typeof value !== 'object' || value === null || Object.values(value).every(isSayable)
}

test('4000 mutated files are answered, each with its hash, in numbers that JSON can say, and twice alike', () => {
  for (let seed = 1; seed <= 4000; seed++) {
    const bytes = mutatedWav(corpus, seed)
    const { inspection } = inspected(bytes)
    expect(inspection.sha256).toBe(createHash('sha256').update(bytes).digest('hex'))
    expect(isSayable(inspection), `seed ${seed}`).toBe(true)
    if (seed % 20 === 0) expect(inspected(bytes).inspection).toEqual(inspection)
  }
})

test('a sound measured after a hostile one measures as it does alone', () => {
  const clean = inspected(corpus[1] ?? new Uint8Array()).inspection
  for (let seed = 5000; seed < 5200; seed++) inspected(mutatedWav(corpus, seed))
  expect(inspected(corpus[1] ?? new Uint8Array()).inspection).toEqual(clean)
})
