import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { expect, test } from 'vitest'

test('the notices name every package that Cardwright brings along, with its version and licence', () => {
  const script = join(import.meta.dirname, '../../../main/write-notices.mjs')
  const result = spawnSync(process.execPath, [script, '--check'], { encoding: 'utf8' })
  expect(result.stdout).toBe('notices: current\n')
})
