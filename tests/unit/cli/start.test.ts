import { existsSync, mkdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runCli } from '../../support/run-cli.ts'
import { temporaryFolder, writeFiles } from '../../support/temporary-folder.ts'

const start = (args: readonly string[], cwd: string, more = {}) =>
  runCli(args, { script: 'main/start.ts', cwd, ...more })

test('the first start makes the demo in view and ends with a verified card; the next only tells', async () => {
  const folder = temporaryFolder()
  const first = await start(['--once', '--workshop', 'bench'], folder)
  expect(first.code).toBe(0)
  for (const word of ['Harbour Bell v1.2', 'Fingerprint', 'verified:', 'what they wait for']) {
    expect(first.stdout).toContain(word)
  }
  expect(first.stdout).toMatch(/6 fonts, \d+ findings for bench-44/)
  expect(first.stderr).toContain('reading sounds')
  const image = /^Image\s+(\S+)/m.exec(first.stdout)?.[1] ?? ''
  expect(statSync(image).size).toBeGreaterThan(400_000_000)

  const second = await start(['--once', '--workshop', 'bench'], folder)
  expect(second.code).toBe(0)
  expect(second.stdout).toContain('6 fonts, 80 sounds, 1 card made')
  expect(second.stdout).not.toContain('making the demo')
})

test('the workshop of the environment is used, and a user’s own gets no demo', async () => {
  const folder = temporaryFolder()
  mkdirSync(join(folder, 'empty'))
  await runCli(['scan', 'empty', '--workshop', 'own'], { cwd: folder })
  const run = await start(['--once'], folder, { env: { CARDWRIGHT_WORKSHOP: 'own' } })
  expect(run.code).toBe(0)
  expect(existsSync(join(folder, 'own', 'demo-fonts'))).toBe(false)
})

test('without --once the window is served on this machine alone until Ctrl+C', async () => {
  const folder = temporaryFolder()
  await runCli(['status', '--workshop', 'own'], { cwd: folder })
  const run = await start(['--no-open', '--workshop', 'own'], folder, {
    env: { DISPLAY: undefined, WAYLAND_DISPLAY: undefined },
    interruptOnOutput: { when: 'this address works once', signal: 'SIGINT' },
  })
  expect(run.code).toBe(0)
  expect(run.stdout).toMatch(/^The window is at http:\/\/127\.0\.0\.1:\d+\/\S+$/m)
})

test.each([
  { name: 'an option that is none', args: ['--onec'], code: 2, words: '--onec' },
  { name: 'a workshop that is a file', args: ['--once', '--workshop', 'taken'], code: 2, words: 'taken' },
])('$name is told in one sentence', async ({ args, code, words }) => {
  const folder = temporaryFolder()
  writeFiles(folder, { taken: 'a file' })
  const run = await start(args, folder)
  expect(run.code).toBe(code)
  expect(run.stderr.trim().split('\n')).toHaveLength(1)
  expect(run.stderr).toContain(words)
})

test('a disk that fills while the demo is written is told in one sentence, and the next start mends it', async () => {
  const folder = temporaryFolder()
  const full = await start(['--once', '--workshop', 'bench'], folder, { limits: 'ulimit -f 2000;' })
  expect(full.code).toBe(3)
  expect(full.stderr).not.toMatch(/^\s+at /m)
  const next = await start(['--once', '--workshop', 'bench'], folder)
  expect(next.code).toBe(0)
  expect(next.stdout).toContain('verified:')
})
