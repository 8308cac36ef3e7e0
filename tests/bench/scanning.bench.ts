import { spawn } from 'node:child_process'
import { readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { median, mustRun, notRun, pairedMedians, type Bench, type BenchContext } from './bench-kit.ts'
import { compiledPeer, PEER_MISSING } from './c-peer.ts'
import { fontLibrary } from './font-library.ts'

const commandLine = fileURLToPath(new URL('../../main/cli/cli.ts', import.meta.url))
/** As the launcher starts it, so that what is measured is what a user waits for and pays in memory. */
const NODE_FLAGS = ['--max-semi-space-size=2']
/** Sounds as fonts mostly have: a fifth of a second, and as short as keeps a hundred thousand cheap to make. */
const SHORT_FRAMES = 4_000
const TINY_FRAMES = 900

function scanArguments(workshop: string, library: string): readonly string[] {
  return [...NODE_FLAGS, commandLine, '--workshop', workshop, '--json', 'scan', library]
}

/** Scans with the product's own command line, in a new process. @returns seconds of the scan itself */
function scan(workshop: string, library: string): number {
  const report = JSON.parse(mustRun(process.execPath, scanArguments(workshop, library))) as {
    seconds: number
    roots: readonly { problems: readonly unknown[]; sounds: number }[]
  }
  const [root] = report.roots
  if (root === undefined || root.problems.length > 0)
    throw new Error(`the scan of ${library} told of problems`)
  return report.seconds
}

function freshWorkshop(context: BenchContext): string {
  const workshop = join(context.dataFolder, 'scan-workshop')
  rmSync(workshop, { recursive: true, force: true })
  return workshop
}

const C_PEER = 'loudness-peer (C, libebur128: I, LRA, true peak; two threads)'

/** Everything the first scan does, records on the disk included, against measuring alone. */
export const firstScanAgainstC: Bench = {
  id: 'P4',
  title: 'first scan of 10,000 small sounds, against measuring them in C',
  run: async (context) => {
    const binary = compiledPeer(context.dataFolder)
    if (binary === undefined) return notRun(C_PEER, PEER_MISSING)
    const library = fontLibrary(context.dataFolder, Math.round(10_000 * context.scale), SHORT_FRAMES)
    const list = mustRun('find', [library, '-name', '*.wav'])
    const times = await pairedMedians(
      context.rounds,
      () => scan(freshWorkshop(context), library),
      () => mustRun(binary, [], list),
    )
    return { peer: C_PEER, ...times, kind: 'at most', hold: 2 }
  },
}

/** A scan that finds nothing changed, from the start of its process, against listing the same files. */
export const rescanAgainstFind: Bench = {
  id: 'P5',
  title: 'scan again where none of 50,000 files has changed, against find',
  run: async (context) => {
    const library = fontLibrary(context.dataFolder, Math.round(50_000 * context.scale), 100)
    const workshop = freshWorkshop(context)
    scan(workshop, library)
    const times = await pairedMedians(
      context.rounds,
      () => scan(workshop, library),
      () => mustRun('find', [library, '-printf', '%s %T@ %p\\n']),
    )
    return { peer: `find DIR -printf '%s %T@ %p\\n'`, ...times, kind: 'at most', hold: 4 }
  },
}

const MOST_MEMORY_MIB = 350

/** Largest memory of the whole process while it scans; every worker is a thread of it. */
export const scanMemory: Bench = {
  id: 'P11',
  title: 'memory of a first scan, at 1,000 and at 100,000 sounds',
  run: async (context) => {
    if (process.platform !== 'linux') return notRun('a bound of 350 MiB', 'memory is read from /proc')
    const few = await peakMemoryMib(context, 1_000)
    const many = await peakMemoryMib(context, Math.round(100_000 * context.scale))
    return {
      peer: `a bound of ${MOST_MEMORY_MIB} MiB`,
      ourSeconds: Math.max(few, many),
      peerSeconds: MOST_MEMORY_MIB,
      unit: 'MiB',
      kind: 'at most',
      hold: 1,
      remark: `${few.toFixed(0)} MiB at 1,000 sounds, ${many.toFixed(0)} MiB at many`,
    }
  },
}

function peakMemoryMib(context: BenchContext, sounds: number): Promise<number> {
  const library = fontLibrary(context.dataFolder, sounds, TINY_FRAMES)
  const child = spawn(process.execPath, [...scanArguments(freshWorkshop(context), library)], {
    stdio: 'ignore',
  })
  let peakKib = 0
  // The kernel keeps the peak, so that looking now and then misses only what the last moments add.
  const looking = setInterval(() => {
    peakKib = Math.max(peakKib, peakKibOf(child.pid ?? 0))
  }, 20)
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('exit', (code) => {
      clearInterval(looking)
      if (code === 0) resolve(peakKib / 1024)
      else reject(new Error(`the scan ended with ${code}`))
    })
  })
}

function peakKibOf(processId: number): number {
  try {
    return Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${processId}/status`, 'utf8'))?.[1] ?? 0)
  } catch {
    return 0
  }
}

/** Whether a large library costs more a sound than a small one. */
export const scanGrowth: Bench = {
  id: 'P12',
  title: 'time of a first scan a sound, at 100,000 against 1,000',
  run: async (context) => {
    const many = Math.round(100_000 * context.scale)
    const secondsFor = (sounds: number) =>
      scan(freshWorkshop(context), fontLibrary(context.dataFolder, sounds, TINY_FRAMES)) / sounds
    const few: number[] = []
    for (let round = 0; round < context.rounds; round += 1) few.push(secondsFor(1_000))
    const large = secondsFor(many)
    return {
      peer: 'the same on 1,000 sounds',
      // Told for a thousand sounds, so that the figures are readable.
      ourSeconds: large * 1_000,
      peerSeconds: median(few) * 1_000,
      kind: 'at most',
      hold: 1.15,
      remark: 'seconds for a thousand sounds',
    }
  },
}
