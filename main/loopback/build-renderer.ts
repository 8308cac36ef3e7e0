import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { InlineConfig } from 'vite'

/** What the window is built from, relative to the installation's root. */
const SOURCES = [
  'renderer',
  'app/contract',
  'app/model',
  'app/errors',
  'electron.vite.config.ts',
  'package-lock.json',
]

/**
 * Builds the window into `out/renderer` where it is missing or older than its sources.
 * @param root folder of the installation, with package.json in it
 * @returns the folder of the built window
 */
export async function buildRenderer(root: string): Promise<string> {
  const folder = join(root, 'out', 'renderer')
  const page = join(folder, 'index.html')
  const isInstalled = !existsSync(join(root, 'electron.vite.config.ts'))
  if (isInstalled || (existsSync(page) && statSync(page).mtimeMs >= newest(root))) return folder
  // Imported only here: an installed program brings its window built, and no builder.
  const { build } = await import('vite')
  const config = (await import(pathToFileURL(join(root, 'electron.vite.config.ts')).href)) as {
    default: { renderer: InlineConfig }
  }
  const { renderer } = config.default
  // Whoever builds it, a test run among them, builds what users get: the libraries look here for it.
  const { NODE_ENV } = process.env
  process.env['NODE_ENV'] = 'production'
  // Built aside and moved into place whole, so that an interrupted build leaves no half window.
  const fresh = `${folder}-${process.pid}`
  try {
    await build({
      ...renderer,
      build: { ...renderer.build, outDir: fresh },
      configFile: false,
      logLevel: 'warn',
    })
    rmSync(folder, { recursive: true, force: true })
    renameSync(fresh, folder)
  } finally {
    if (NODE_ENV === undefined) delete process.env['NODE_ENV']
    else process.env['NODE_ENV'] = NODE_ENV
    rmSync(fresh, { recursive: true, force: true })
  }
  return folder
}

function newest(root: string): number {
  return Math.max(...SOURCES.map((source) => newestBelow(join(root, source))))
}

function newestBelow(path: string): number {
  const own = statSync(path, { throwIfNoEntry: false })
  if (own === undefined) return 0
  if (!own.isDirectory()) return own.mtimeMs
  // A removed file shows in its folder's time.
  const times = readdirSync(path).map((name) => newestBelow(join(path, name)))
  return Math.max(own.mtimeMs, ...times)
}
