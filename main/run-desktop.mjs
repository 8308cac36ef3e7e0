// `npm run desktop`: fetches Electron's binary where it may, bundles the desktop door, opens the window.
import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const electron = join(root, 'node_modules/electron')

function stop(sentence) {
  process.stderr.write(`\nCardwright: ${sentence}\n`)
  process.exit(3)
}

/** The binary's path; undefined while it is not there. Never by importing the package: that starts a download. */
function binary() {
  const pathFile = join(electron, 'path.txt')
  if (!existsSync(pathFile)) return undefined
  const file = join(electron, 'dist', readFileSync(pathFile, 'utf8').trim())
  return existsSync(file) ? file : undefined
}

if (!binary()) {
  process.stderr.write("Fetching Electron's binary (once; about 120 MB) …\n")
  spawnSync(process.execPath, [join(electron, 'install.js')], { cwd: root, encoding: 'utf8' })
}
const file = binary()
if (!file) {
  stop(
    "Electron's binary could not be fetched here; use `npm start`, which opens the same window in your browser.",
  )
}
const built = spawnSync(
  process.execPath,
  [join(root, 'node_modules/electron-vite/bin/electron-vite.js'), 'build'],
  {
    cwd: root,
    encoding: 'utf8',
  },
)
if (built.status !== 0) stop(`the desktop window could not be bundled:\n${built.stderr || built.stdout}`)
const env = { ...process.env }
delete env.ELECTRON_RUN_AS_NODE
const shown = spawnSync(file, [root, ...process.argv.slice(2)], { cwd: root, stdio: 'inherit', env })
process.exit(shown.status ?? 3)
