// The first step of every npm command: sets up what is missing, then runs the real thing under the
// Node that the lock file pins. Plain JavaScript for the user's own Node (20 or later), nothing
// imported but Node itself. Why not `npm install`: the lock file cannot carry better-sqlite3's
// `gypfile: false`, so a plain `npm ci` would start a compiler that the user does not have.
import { spawn, spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  rmSync,
  statfsSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const OLDEST_NODE = 20
/** What the installed packages take, with some air. */
const NEEDED_BYTES = 1_300_000_000
const root = dirname(dirname(fileURLToPath(import.meta.url)))
const modules = join(root, 'node_modules')
const stampFile = join(modules, '.cardwright-set-up')
const lockFolder = join(root, '.setting-up')
const pinnedNode = join(modules, 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node')

/** Young garbage is collected early: a scan of a hundred thousand sounds stays below 350 MiB by it. */
const NODE_FLAGS = ['--max-semi-space-size=2']

/** What each npm command runs, one step after the other; `args` go to the last. */
const COMMANDS = {
  start: [['main/start.ts']],
  cli: [['main/cli/cli.ts']],
  test: [['node_modules/vitest/vitest.mjs', 'run']],
  check: [['main/check.mjs']],
  build: [['node_modules/electron-vite/bin/electron-vite.js', 'build']],
  bench: [['tests/bench/bench.ts']],
  fuzz: [['tests/bench/fuzz.ts']],
  torture: [['tests/torture/torture.ts']],
  desktop: [['main/run-desktop.mjs']],
  format: [['node_modules/prettier/bin/prettier.cjs', '--write', '.']],
  'build-kernel': [['main/workers/build-kernel.ts']],
  'write-notices': [['main/write-notices.mjs']],
  'write-schemas': [['main/cli/write-schemas.ts']],
}

function stop(sentence, code = 3) {
  process.stderr.write(`\nCardwright: ${sentence}\n`)
  process.exit(code)
}

function wantedStamp() {
  const lock = readFileSync(join(root, 'package-lock.json'))
  return createHash('sha256').update(lock).update(`${process.platform} ${process.arch}`).digest('hex')
}

function isSetUp() {
  try {
    if (!existsSync(pinnedNode)) return false
    if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === wantedStamp()) return true
    if (!holdsAllOfTheLockFile()) return false
    allowFfmpegToRun()
    writeFileSync(stampFile, wantedStamp())
    return true
  } catch {
    return false
  }
}

/** A contributor who adds a package with npm has it installed already: nothing to set up then. */
function holdsAllOfTheLockFile() {
  const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages
  // npm writes this list last, so an installation that was cut short has none.
  const present = JSON.parse(readFileSync(join(modules, '.package-lock.json'), 'utf8')).packages
  return Object.entries(wanted).every(
    ([path, entry]) => path === '' || entry.optional || present[path]?.version === entry.version,
  )
}

function say(line) {
  process.stderr.write(`${line}\n`)
}

/** Runs npm, whatever started us; the output is kept to explain a failure and shown only then. */
function npm(args) {
  const script = process.env.npm_execpath
  const viaScript = script && /\.[cm]?js$/.test(script) && existsSync(script)
  const env = {
    ...process.env,
    npm_config_audit: 'false',
    npm_config_fund: 'false',
    npm_config_update_notifier: 'false',
  }
  // What `npm run` was told about this project must not steer the inner npm.
  delete env.npm_config_prefix
  delete env.npm_config_local_prefix
  const result = viaScript
    ? spawnSync(process.execPath, [script, ...args], { cwd: root, env, encoding: 'utf8', maxBuffer: 1 << 26 })
    : spawnSync('npm', args, {
        cwd: root,
        env,
        encoding: 'utf8',
        maxBuffer: 1 << 26,
        shell: process.platform === 'win32',
      })
  return {
    ok: result.status === 0,
    text: `${result.stdout ?? ''}${result.stderr ?? ''}${result.error ?? ''}`,
  }
}

/** Turns npm's output into one sentence a person can act on. */
export function explain(text) {
  if (/ENOSPC|no space left/i.test(text)) {
    return `there is no room left on the disk of ${root}; free about 1.5 GB and run the same command again.`
  }
  if (/CERT_|certificate/i.test(text)) {
    return "the npm registry's certificate is not trusted on this computer, as happens behind a company's proxy; ask who runs the network for its certificate, set NODE_EXTRA_CA_CERTS to that file, and run the same command again."
  }
  if (/EACCES|EPERM|EROFS/.test(text)) {
    return `this user may not write into ${root}; move the project to a folder of your own, or mend its permissions, and run the same command again.`
  }
  if (
    /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|network|socket hang up|ERR_SOCKET|fetch failed/i.test(
      text,
    )
  ) {
    return 'the npm registry could not be reached; connect to the internet (or set your proxy for npm) and run the same command again. This is needed once; later starts work offline.'
  }
  if (/spawn npm ENOENT|npm: not found/.test(text)) {
    return 'npm was not found; install Node with npm (https://nodejs.org) and run the same command again.'
  }
  const last = text
    .split('\n')
    .filter((line) => /npm (error|ERR!)/.test(line))
    .slice(0, 6)
    .join('\n')
  return `setting up failed. npm said:\n${last || text.slice(-800)}\nMend that and run the same command again.`
}

/** The sentence for a Node that is too old; undefined where it will do. */
export function complaintAboutNode(version) {
  if (Number(version.split('.')[0]) >= OLDEST_NODE) return undefined
  return `this is Node ${version}, and Cardwright needs Node ${OLDEST_NODE} or later; install a current one from https://nodejs.org and run the same command again.`
}

function setUp() {
  say('Setting up Cardwright (once; about a minute, 1 GB on disk) …')
  const started = Date.now()
  const disk = statfsSync(root)
  if (disk.bavail * disk.bsize < NEEDED_BYTES) stop(explain('ENOSPC'))
  rmSync(stampFile, { force: true })
  const install = npm(['ci', '--ignore-scripts', '--no-audit', '--no-fund'])
  if (!install.ok) stop(explain(install.text))
  say(`  packages installed (${Math.round((Date.now() - started) / 1000)} s)`)
  if (!existsSync(pinnedNode)) {
    const rebuild = npm(['rebuild', 'node'])
    if (!rebuild.ok || !existsSync(pinnedNode)) stop(explain(rebuild.text))
  }
  allowFfmpegToRun()
  writeFileSync(stampFile, wantedStamp())
  say(`  ready (${Math.round((Date.now() - started) / 1000)} s)\n`)
}

/** The package sets the run bit in an install script, and those are switched off. */
function allowFfmpegToRun() {
  const folder = join(modules, '@ffmpeg-installer')
  const file = join(
    folder,
    `${process.platform}-${process.arch}`,
    process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg',
  )
  if (process.platform !== 'win32' && existsSync(file)) chmodSync(file, 0o755)
}

/** Two commands started at once must not install over one another: a folder is made by only one. */
function withSetUpLock(work) {
  const oldest = Date.now() - 15 * 60_000
  for (;;) {
    try {
      mkdirSync(lockFolder)
      break
    } catch (error) {
      if (error.code !== 'EEXIST') stop(explain(String(error.code)))
      let age = 0
      try {
        age = statSync(lockFolder).mtimeMs
      } catch {
        continue
      }
      if (age < oldest) rmSync(lockFolder, { recursive: true, force: true })
      else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500)
    }
  }
  const unlock = () => rmSync(lockFolder, { recursive: true, force: true })
  process.on('exit', unlock)
  if (!isSetUp()) work()
  unlock()
  process.off('exit', unlock)
}

function runUnderPinnedNode(steps, args) {
  const [step, ...rest] = steps
  const isLast = rest.length === 0
  const child = spawn(pinnedNode, [...NODE_FLAGS, ...step, ...(isLast ? args : [])], {
    cwd: root,
    stdio: 'inherit',
    env: {
      ...process.env,
      INIT_CWD: process.env.INIT_CWD ?? process.cwd(),
      // Compiled modules are kept between starts, for the workers too: half the time of a short command.
      NODE_COMPILE_CACHE: process.env.NODE_COMPILE_CACHE ?? join(modules, '.compile-cache'),
    },
  })
  // The child shares the terminal and hears Ctrl+C itself; others' signals are passed on.
  process.on('SIGINT', () => {})
  for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal))
  child.on('error', (error) =>
    stop(
      `the pinned Node could not be started (${error.message}); delete node_modules and run the same command again.`,
    ),
  )
  child.on('exit', (code, signal) => {
    if (signal) process.exit(3)
    if (code !== 0 || isLast) process.exit(code ?? 3)
    runUnderPinnedNode(rest, args)
  })
}

function main() {
  const [name, ...args] = process.argv.slice(2)
  const complaint = complaintAboutNode(process.versions.node)
  if (complaint) stop(complaint)
  const steps = COMMANDS[name]
  if (!steps)
    stop(
      `"${name ?? ''}" is no command of this project; try npm start, npm test or npm run cardwright -- --help.`,
      2,
    )
  if (!isSetUp()) withSetUpLock(setUp)
  runUnderPinnedNode(steps, args)
}

const require = createRequire(import.meta.url)
if (process.argv[1] && require.resolve(process.argv[1]) === fileURLToPath(import.meta.url)) main()
