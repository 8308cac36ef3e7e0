import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { has, mustRun, notRun, pairedMedians, type Bench, type BenchContext } from './bench-kit.ts'
import { soundLibrary, type LibraryFile } from './sound-library.ts'

const prepareScript = fileURLToPath(new URL('./prepare-library.ts', import.meta.url))
const nobodyCancels = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} }

/** The whole of preparing for `bench-32` against what a shell loop does of it. */
export const preparingAgainstShellLoop: Bench = {
  id: 'P14',
  title: 'Prepare the whole library for bench-32, against a shell loop of ffmpeg',
  run: async (context) => {
    const each = 'ffmpeg -nostdin -v error -y -i FILE -ac 1 -ar 32000 -c:a pcm_s16le OUT'
    const peer = `xargs -P 2: ${each}, one process a file, two at a time`
    if (!has('ffmpeg')) return notRun(peer, 'ffmpeg is not installed')
    const { files, list } = await scannedLibrary(context)
    const work = join(context.dataFolder, 'prepare-work')
    rmSync(work, { recursive: true, force: true })
    let runs = 0
    const out = join(context.dataFolder, 'prepare-peer')
    rmSync(out, { recursive: true, force: true })
    mkdirSync(out, { recursive: true })
    let said = ''
    const times = await pairedMedians(
      context.rounds,
      () => {
        // A folder of its own each: removing what the last one wrote is no part of preparing.
        said = mustRun(process.execPath, [...NODE_FLAGS, prepareScript, list, join(work, String(++runs))])
      },
      () => shellLoop(files, out),
    )
    const written = readdirSync(out).length
    rmSync(work, { recursive: true, force: true })
    rmSync(out, { recursive: true, force: true })
    if (written !== files.length) throw new Error(`the peer wrote ${written} of ${files.length} files`)
    return { peer, ...times, kind: 'at most', hold: 0.5, remark: `ours: ${said.trim()}` }
  },
}

const MOST_MEMORY_MIB = 350

/** Memory of the whole process tree: pages that several processes share are counted once. */
export const preparingMemory: Bench = {
  id: 'P15',
  title: 'memory of preparing the whole library for bench-32, ffmpeg included',
  run: async (context) => {
    const peer = `a bound of ${MOST_MEMORY_MIB} MiB`
    if (process.platform !== 'linux') return notRun(peer, 'memory is read from /proc')
    if (!has('ffmpeg')) return notRun(peer, 'ffmpeg is not installed')
    const { list } = await scannedLibrary(context)
    const work = join(context.dataFolder, 'prepare-work')
    const peakMib = await peakOfTreeMib([...NODE_FLAGS, prepareScript, list, work])
    rmSync(work, { recursive: true, force: true })
    return { peer, ourSeconds: peakMib, peerSeconds: MOST_MEMORY_MIB, unit: 'MiB', kind: 'at most', hold: 1 }
  },
}

/** As the command line is started. */
const NODE_FLAGS = ['--max-semi-space-size=2']

function peakOfTreeMib(args: readonly string[]): Promise<number> {
  const child = spawn(process.execPath, args, { stdio: 'ignore' })
  let peakKib = 0
  const looking = setInterval(() => {
    const processIds = [child.pid ?? 0, ...childrenOf(child.pid ?? 0)]
    const kib = processIds.map(proportionalKib).reduce((sum, each) => sum + each, 0)
    peakKib = Math.max(peakKib, kib)
  }, 30)
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('exit', (code) => {
      clearInterval(looking)
      if (code === 0) resolve(peakKib / 1024)
      else reject(new Error(`preparing ended with ${code}`))
    })
  })
}

function childrenOf(processId: number): readonly number[] {
  return orElse([], () =>
    readdirSync(`/proc/${processId}/task`).flatMap((thread) =>
      readFileSync(`/proc/${processId}/task/${thread}/children`, 'utf8')
        .split(' ')
        .filter(Boolean)
        .map(Number),
    ),
  )
}

function proportionalKib(processId: number): number {
  return orElse(0, () =>
    Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${processId}/smaps_rollup`, 'utf8'))?.[1] ?? 0),
  )
}

/** A process may be gone before it has been looked at. */
function orElse<T>(otherwise: T, look: () => T): T {
  try {
    return look()
  } catch {
    return otherwise
  }
}

async function scannedLibrary({
  dataFolder,
  scale,
}: BenchContext): Promise<{ files: LibraryFile[]; list: string }> {
  const files = soundLibrary(dataFolder, scale)
  const list = join(dataFolder, `prepare-${scale}.json`)
  if (!existsSync(list)) writeFileSync(list, JSON.stringify(await inspected(files)))
  return { files, list }
}

async function inspected(files: readonly LibraryFile[]): Promise<unknown[]> {
  const inspector = openWorkerInspector()
  const found: unknown[] = []
  await inspector.inspectFiles(
    files,
    (index, { inspection }) => {
      found[index] = { path: files[index]?.path, inspection }
    },
    nobodyCancels,
  )
  await inspector.close()
  return found
}

function shellLoop(files: readonly LibraryFile[], out: string): void {
  const script = 'ffmpeg -nostdin -v error -y -i "$1" -ac 1 -ar 32000 -c:a pcm_s16le "$0/$(basename "$1")"'
  const input = files.map(({ path }) => `${path}\n`).join('')
  mustRun('xargs', ['-P', '2', '-n', '1', 'sh', '-c', script, out], input)
}
