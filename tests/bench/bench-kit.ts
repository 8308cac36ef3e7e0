import { spawnSync } from 'node:child_process'
import { mkdirSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** What every bench is given. */
export interface BenchContext {
  /** Share of the full work, 1 for the numbers that count. */
  readonly scale: number
  readonly rounds: number
  /** A folder for generated data that later runs find again. */
  readonly dataFolder: string
  say(line: string): void
}

/** A bench: one number held against a peer on the same bytes in the same run. */
export interface Bench {
  readonly id: string
  readonly title: string
  run(context: BenchContext): Promise<BenchResult>
}

export interface BenchResult {
  /** Command line of the peer; `not run` says why where it is missing. */
  readonly peer: string
  readonly notRun?: string
  readonly ourSeconds: number
  readonly peerSeconds: number
  /** What the two figures are, where they are no seconds. */
  readonly unit?: string
  /** How the ratio is read: a speed-up (peer over ours) or a share (ours over the peer's). */
  readonly kind: 'at least' | 'at most'
  readonly hold: number
  readonly remark?: string
}

/** The result of a bench whose peer is missing. */
export function notRun(peer: string, why: string): BenchResult {
  return { peer, notRun: why, ourSeconds: 0, peerSeconds: 0, kind: 'at most', hold: 0 }
}

/** Where generated libraries are kept, outside the project. */
export function benchDataFolder(): string {
  const folder = process.env.CARDWRIGHT_BENCH_DATA ?? join(tmpdir(), 'cardwright-bench')
  mkdirSync(folder, { recursive: true })
  return folder
}

/** Runs both in turn, `rounds` times, and gives the medians: drifts of the machine hit both alike. */
export async function pairedMedians(
  rounds: number,
  ours: () => unknown,
  peer: () => unknown,
): Promise<{ ourSeconds: number; peerSeconds: number }> {
  const ourTimes: number[] = []
  const peerTimes: number[] = []
  await ours()
  await peer()
  for (let round = 0; round < rounds; round++) {
    ourTimes.push(await secondsOf(ours))
    peerTimes.push(await secondsOf(peer))
  }
  return { ourSeconds: median(ourTimes), peerSeconds: median(peerTimes) }
}

async function secondsOf(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return (performance.now() - start) / 1000
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[sorted.length >> 1] ?? 0
}

/**
 * Runs a command to its end and gives its output.
 * @throws where it fails: a peer whose options are wrong measures nothing
 */
export function mustRun(command: string, args: readonly string[], input?: string): string {
  const result = spawnSync(command, args, {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    ...(input === undefined ? {} : { input }),
  })
  if (result.status !== 0)
    throw new Error(`${command} ended with ${result.status}: ${result.stderr?.slice(-400)}`)
  return result.stdout
}

/** Whether a command is there at all. */
export function has(command: string): boolean {
  return spawnSync(command, ['--version']).error === undefined
}
