import { expect, test } from 'vitest'
import { cautionsFor } from '../../../../app/usecases/prepare/cautions.ts'

type Rows = Parameters<typeof cautionsFor>[1]
type Ports = Parameters<typeof cautionsFor>[2]

const ports = {
  database: { records: { listLicencesOfFonts: () => Promise.resolve([]) } },
} as unknown as Ports

/** A font of sounds with these gains; null for a sound without one. */
function fontWith(...gains: (number | null)[]): Rows[number] {
  const sounds = gains.map((gainDb) => ({
    steps: gainDb === null ? [] : [{ step: 'gain', rule: '', reason: '', numbers: { gainDb }, inWords: '' }],
  }))
  return { sounds } as unknown as Rows[number]
}

test('who raises sounds is told to play them quietly first, be it music alone or one sound by their own word', async () => {
  const told = async (...rows: Rows) => (await cautionsFor({ editions: [] }, rows, ports)).join()
  expect(await told(fontWith(-8, null, 12.34), fontWith(3))).toMatch(/raised by up to 12\.3 dB/)
  expect(await told(fontWith(-8, null), fontWith())).toBe('')
})
