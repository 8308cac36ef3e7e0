import { execFileSync, spawn } from 'node:child_process'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, onTestFinished } from 'vitest'
import { plainWave } from '../support/plain-wave.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

// A real terminal, lent by util-linux's `script`: only there is anybody asked.

const cli = fileURLToPath(new URL('../../main/cli/cli.ts', import.meta.url))

function lockedArchive(): { folder: string; archive: string } {
  const folder = temporaryFolder()
  writeFiles(folder, { 'Ember/hum.wav': plainWave(1), 'Ember/clash-01.wav': plainWave(2) })
  execFileSync('7z', ['a', '-tzip', '-mem=AES256', '-pkit', 'font.zip', 'Ember'], {
    cwd: folder,
    stdio: 'ignore',
  })
  return { folder, archive: join(folder, 'font.zip') }
}

/** Scans the archive on a terminal and types `keys` once the password is asked for. */
function scanTyping(keys: string): Promise<{ code: number | null; screen: string }> {
  const { folder, archive } = lockedArchive()
  const words = [process.execPath, cli, '--workshop', join(folder, 'workshop'), 'scan', archive]
  const command = words.map((word) => `'${word}'`).join(' ')
  const child = spawn('script', ['--quiet', '--return', '--command', command, '/dev/null'], {
    env: { ...process.env, NODE_OPTIONS: '' },
  })
  onTestFinished(() => void child.kill('SIGKILL'))
  let screen = ''
  let isTyped = false
  child.stdout.on('data', (piece: Buffer) => {
    screen += piece.toString()
    if (isTyped || !screen.includes('Password of')) return
    isTyped = true
    child.stdin.write(keys)
  })
  return new Promise((resolve) => child.on('close', (code) => resolve({ code, screen })))
}

testAgainst('script', '7z')('a password typed on a terminal opens the archive and is not shown', async () => {
  const { code, screen } = await scanTyping('kit\r')
  expect(code).toBe(0)
  // The question is broken between words where the terminal is narrower.
  expect(screen.replaceAll(/\s+/g, ' ')).toContain('not shown and not stored')
  expect(screen).not.toContain('kit\r')
})

testAgainst('script', '7z')(
  'an empty password, or the end of input, leaves the archive locked and says so',
  async () => {
    for (const keys of ['\r', '\u0004']) {
      const { code, screen } = await scanTyping(keys)
      expect(code).toBe(1)
      expect(screen).toContain('font.zip')
      expect(screen).not.toContain('fault of its own')
    }
  },
)

testAgainst('script', '7z')('Ctrl+C while a password is asked for cancels, and is no fault', async () => {
  const { code, screen } = await scanTyping('\u0003')
  expect(code).toBe(3)
  expect(screen).toContain('ancelled')
  expect(screen).not.toContain('fault of its own')
})
