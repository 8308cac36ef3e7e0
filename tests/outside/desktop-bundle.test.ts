import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'

// The desktop program as the bundler writes it. Electron's binary is a separate download, so a
// stand-in takes its place; workers, database and window files are the bundle's own.

const root = join(import.meta.dirname, '../..')
// Below the installation, where packages and resources are found; aside, since others read out/renderer.
const bundle = join(root, 'out', `bundle-${process.pid}`)
const folder = mkdtempSync(join(tmpdir(), 'cardwright-desktop-'))

beforeAll(() => {
  const built = spawnSync(
    process.execPath,
    ['node_modules/electron-vite/bin/electron-vite.js', 'build', '--outDir', bundle],
    {
      cwd: root,
      encoding: 'utf8',
    },
  )
  expect(built.status, built.stderr).toBe(0)
})
afterAll(() => {
  for (const made of [folder, bundle]) rmSync(made, { recursive: true, force: true })
})

test('opens a sandboxed window and makes a verified card with the workers of the bundle', () => {
  const ran = spawnSync(process.execPath, [join(root, 'tests/support/bundled-desktop-child.ts'), bundle], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, CARDWRIGHT_WORKSHOP: join(folder, 'workshop') },
    timeout: 240_000,
  })
  expect(ran.status, ran.stderr).toBe(0)
  expect(JSON.parse(ran.stdout)).toMatchObject({
    isOpen: true,
    preferences: { sandbox: true, contextIsolation: true, nodeIntegration: false },
    status: { ok: true, value: { fontCount: 0 } },
    job: { state: 'done', value: { make: { verified: true } } },
  })
})

test('the preload is one file that requires nothing but electron', () => {
  const text = readFileSync(join(bundle, 'preload/preload.cjs'), 'utf8')
  const required = [...text.matchAll(/require\(["'`]([^"'`]+)["'`]\)/g)].map((match) => match[1])
  expect([...new Set(required)]).toEqual(['electron'])
})

test('no page of the bundle holds a script or style of its own', () => {
  const page = readFileSync(join(bundle, 'renderer/index.html'), 'utf8')
  expect(page).not.toMatch(/<style|style=|<script(?![^>]*\ssrc=)|\son[a-z]+=/)
})
