import { expect, test } from 'vitest'
import { entryOrderFault } from '../../../../app/cards/folder/entry-order.ts'
import { listTarget } from '../../../../app/cards/folder/list-target.ts'
import type { CardReading } from '../../../../app/model/card-reading.ts'
import type { TargetFolder } from '../../../../app/ports/target-folder.ts'

const content = {
  files: ['01-EMBER/HUM.WAV', '01-EMBER/BOOT.WAV', '02-BELL/HUM.WAV', 'CREDITS.TXT'].map((path) => ({
    path,
    sizeBytes: 1,
    sha256: path,
    firstCluster: 2,
    clusterCount: 1,
    origin: { kind: 'config' } as const,
  })),
}

const reading = (paths: readonly string[], isInEntryOrder = true): CardReading => ({
  files: paths.map((path) => ({ path, sizeBytes: 1, sha256: path })),
  faults: [],
  stretchHashes: [],
  isInEntryOrder,
})

test.each([
  ['in play order', ['01-EMBER/HUM.WAV', '01-EMBER/BOOT.WAV', '02-BELL/HUM.WAV', 'CREDITS.TXT']],
  [
    'with others between',
    ['X', '01-EMBER/HUM.WAV', '01-EMBER/BOOT.WAV', 'Y/Z', '02-BELL/HUM.WAV', 'CREDITS.TXT'],
  ],
  ['with some missing', ['01-EMBER/BOOT.WAV', 'CREDITS.TXT']],
  ['in other case', ['01-ember/hum.wav', '01-Ember/BOOT.WAV', '02-BELL/HUM.WAV', 'CREDITS.TXT']],
])('entries %s are no fault', (_name, paths) => {
  expect(entryOrderFault(content, reading(paths))).toBeNull()
})

test.each([
  ['fonts', ['02-BELL/HUM.WAV', '01-EMBER/HUM.WAV', '01-EMBER/BOOT.WAV', 'CREDITS.TXT'], '02-BELL/HUM.WAV'],
  ['sounds of a font', ['01-EMBER/BOOT.WAV', '01-EMBER/HUM.WAV', '02-BELL/HUM.WAV'], '01-EMBER/BOOT.WAV'],
  ['the root', ['CREDITS.TXT', '01-EMBER/HUM.WAV', '01-EMBER/BOOT.WAV'], 'CREDITS.TXT'],
])('another order of %s is told with the first name out of place', (_name, paths, first) => {
  expect(entryOrderFault(content, reading(paths))).toContain(`${first} comes where 01-EMBER/HUM.WAV should`)
})

test('a file system that keeps no order has none to break', () => {
  expect(entryOrderFault(content, reading(['CREDITS.TXT', '01-EMBER/HUM.WAV'], false))).toBeNull()
})

test('what is no card is told and not walked through: too many files, folders without end', () => {
  const rules = { isLitter: () => false, isPlanned: () => false, cancel: () => {} }
  const file = { name: 'x', kind: 'file', sizeBytes: 1 } as const
  const many: Pick<TargetFolder, 'list'> = { list: () => Array.from({ length: 50_001 }, () => file) }
  const deep: Pick<TargetFolder, 'list'> = { list: () => [{ name: 'a', kind: 'folder', sizeBytes: 0 }] }
  for (const target of [many, deep])
    expect(() => listTarget(target, rules)).toThrow(expect.objectContaining({ code: 'target/no-card' }))
})
