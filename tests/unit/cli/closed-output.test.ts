import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { expect, test } from 'vitest'

const cli = join(import.meta.dirname, '../../../main/cli/cli.ts')

test('a reader that stops reading, as head does, is no fault: no stack trace, and the usual exit code', async () => {
  const child = spawn(process.execPath, [cli, '--help'], { stdio: ['ignore', 'pipe', 'pipe'] })
  child.stdout.destroy()
  let told = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => (told += text))
  const code = await new Promise((resolve) => child.on('close', resolve))
  expect(told).toBe('')
  expect(code).toBe(0)
})
