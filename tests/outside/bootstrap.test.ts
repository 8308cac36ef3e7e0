import { spawnSync } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'

const root = join(import.meta.dirname, '../..')
let folder: string

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'cardwright-set-up-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function copyOfTheProject(target: string): void {
  mkdirSync(join(target, 'main'), { recursive: true })
  for (const file of ['package.json', 'package-lock.json', 'main/bootstrap.mjs'])
    cpSync(join(root, file), join(target, file))
}

function startIn(target: string, env: Record<string, string>) {
  return spawnSync(process.execPath, ['main/bootstrap.mjs', 'start'], {
    cwd: target,
    encoding: 'utf8',
    env: { PATH: process.env['PATH'] ?? '', HOME: folder, ...env },
    timeout: 120_000,
  })
}

test('without a network it says so in one sentence and exits with 3', () => {
  copyOfTheProject(folder)
  const result = startIn(folder, {
    npm_config_registry: 'http://127.0.0.1:9/',
    npm_config_cache: join(folder, 'cache'),
    npm_config_fetch_retries: '0',
  })
  expect(result.status).toBe(3)
  expect(result.stderr).toContain('the npm registry could not be reached; connect to the internet')
  expect(result.stderr).not.toMatch(/\n\s+at /)
  expect(existsSync(join(folder, '.setting-up'))).toBe(false)
})

const canMount = process.platform === 'linux' && process.getuid?.() === 0
test.skipIf(!canMount)(
  'on a full disk it says so in one sentence and exits with 3 (not run without root)',
  () => {
    const disk = join(folder, 'disk')
    mkdirSync(disk)
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=3m', 'none', disk])
    if (mounted.status !== 0) throw new Error(`a small tmpfs could not be mounted: ${mounted.stderr}`)
    try {
      copyOfTheProject(disk)
      const result = startIn(disk, {})
      expect(result.status).toBe(3)
      expect(result.stderr).toContain('there is no room left on the disk')
    } finally {
      spawnSync('umount', [disk])
    }
  },
)
