import { appendFileSync, mkdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { Arming } from '../torture/interpose.ts'
import { runCommand } from '../torture/run-command.ts'
import { READY_FONTS } from '../torture/torture-library.ts'
import { openTortureBench, type Place, type TortureBench } from '../torture/torture-bench.ts'
import { treeHash } from '../torture/tree-hash.ts'

let bench: TortureBench
beforeAll(async () => {
  bench = await openTortureBench(['make'])
})
afterAll(() => bench.remove())

const EARLY = '2026-01-15T08:00:00Z'
const LATE = '2026-01-16T09:30:00Z'

function newPlace(): Place {
  const place = bench.newPlace('make')
  mkdirSync(place.into)
  return place
}

/** Makes the card in place, by a clock that stands still. */
function makeInto({ workshop, temporary }: Place, into: string, now: string, arming: Arming = {}) {
  const words = ['make', ...READY_FONTS, '--board', 'torture', '--into', into]
  return runCommand([...words, '--json', '--workshop', workshop], {
    temporaryFolder: temporary,
    arming: { ...arming, now },
  })
}

/** A target that is written as a whole and whose content is not recorded: killed while it is read back. */
async function brokenOff(): Promise<Place> {
  const whole = newPlace()
  const countInto = join(dirname(whole.workshop), 'counted')
  expect((await makeInto(whole, whole.into, EARLY, { countInto })).code).toBe(0)
  const { steps } = JSON.parse(readFileSync(countInto, 'utf8')) as { steps: number }
  const place = newPlace()
  // The last steps are those of the record and of letting go of what was held.
  const killed = await makeInto(place, place.into, EARLY, { killAtStep: steps - 4 })
  expect(killed.signal).toBe('SIGKILL')
  expect(treeHash(place.into)).toBe(treeHash(whole.into))
  return place
}

describe('a card in place of which the run was broken off while it was read back', () => {
  test('is made whole by the next run, though its documents bear another date', async () => {
    const place = await brokenOff()
    const run = await makeInto(place, place.into, LATE)
    expect(run.code, run.stderr).toBe(0)
    const { written, verified } = JSON.parse(run.stdout) as ResponseOf<'make:into'>
    expect(verified).toBe(true)
    expect(written.filesWritten).toBe(2)
    expect(written.removed.toSorted()).toEqual(['CREDITS.TXT', 'LICENCES.CDX.JSON'].toSorted())
  })

  test('is not touched where a document was changed since', async () => {
    const place = await brokenOff()
    appendFileSync(join(place.into, 'CREDITS.TXT'), 'a line of mine\n')
    const before = treeHash(place.into)
    const run = await makeInto(place, place.into, LATE)
    expect(run.code).toBe(1)
    expect(JSON.parse(run.stdout)).toMatchObject({ error: { code: 'target/strangers' } })
    expect(treeHash(place.into)).toBe(before)
  })
})

test('two that make the same card in two places at once both succeed, and the places are the same', async () => {
  const place = newPlace()
  const other = join(dirname(place.into), 'other')
  mkdirSync(other)
  const runs = await Promise.all([makeInto(place, place.into, EARLY), makeInto(place, other, LATE)])
  expect(runs.map(({ code, stderr }) => (code === 0 ? '' : stderr))).toEqual(['', ''])
  expect(treeHash(other)).toBe(treeHash(place.into))
  const verified = await runCommand(['verify', other, '--workshop', place.workshop], {
    temporaryFolder: place.temporary,
    arming: {},
  })
  expect(verified.code).toBe(0)
})
