import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Arming } from './interpose.ts'
import { TORTURE_NOW, type Act } from './torture-bench.ts'

/** What came of letting steps fail. */
export interface SweepReport {
  /** Steps that were let fail, each in a run of its own. */
  readonly tried: number
  /** Codes that were told, and how often. */
  readonly told: Readonly<Record<string, number>>
  /** Steps without which the act succeeds all the same, such as those of tidying up. */
  readonly passedOver: number
  readonly faults: readonly string[]
}

export interface SweepOptions {
  readonly act: Act
  /** What the operating system says: `ENOSPC`, `EIO` ... */
  readonly failWith: string
  readonly first: number
  readonly every: number
  readonly onProgress?: (line: string) => void
}

/** Lets steps of an act fail one after the other, in a process of its own. */
export async function sweep({ act, failWith, first, every, onProgress }: SweepOptions): Promise<SweepReport> {
  const temporary = mkdtempSync(join(tmpdir(), 'cardwright-sweep-'))
  const arming: Arming = { failWith, now: TORTURE_NOW }
  const path = (name: string) => fileURLToPath(new URL(name, import.meta.url))
  const child = spawn(
    process.execPath,
    [
      ...['--import', new URL('./interpose.ts', import.meta.url).href, path('./fault-sweep.ts')],
      ...['--act', act, '--first', String(first), '--every', String(every)],
    ],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, TMPDIR: temporary, CARDWRIGHT_TORTURE: JSON.stringify(arming) },
    },
  )
  let stdout = ''
  let stderr = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    stderr += text
    onProgress?.(text.trimEnd())
  })
  const code = await new Promise<number | null>((resolve) => child.once('close', resolve))
  rmSync(temporary, { recursive: true, force: true })
  if (code !== 0) throw new Error(`the sweep ended with ${code}: ${stderr.slice(-2000)}`)
  return JSON.parse(stdout) as SweepReport
}
