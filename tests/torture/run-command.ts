import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { Arming } from './interpose.ts'

const root = fileURLToPath(new URL('../../', import.meta.url))
const interpose = new URL('./interpose.ts', import.meta.url).href

export interface CommandRun {
  readonly code: number | null
  readonly signal: NodeJS.Signals | null
  readonly stdout: string
  readonly stderr: string
  readonly ms: number
}

export interface CommandOptions {
  /** For everything that the command puts among the system's temporary files. */
  readonly temporaryFolder: string
  readonly arming: Arming
  /** Killed from outside after so many milliseconds. */
  readonly killAfterMs?: number
  /** Lines of a shell before it, such as `ulimit -f 1000;`. */
  readonly limits?: string
}

/** Runs the command line as a process of its own, armed. */
export function runCommand(args: readonly string[], options: CommandOptions): Promise<CommandRun> {
  const command = [process.execPath, '--import', interpose, `${root}main/cli/cli.ts`, ...args]
  const [program = '', ...rest] =
    options.limits === undefined
      ? command
      : ['/bin/bash', '-c', `${options.limits} exec "$@"`, 'bash', ...command]
  const env: NodeJS.ProcessEnv = {
    ...process.env,
    TMPDIR: options.temporaryFolder,
    CARDWRIGHT_TORTURE: JSON.stringify(options.arming),
  }
  delete env['NODE_OPTIONS']
  delete env['CARDWRIGHT_WORKSHOP']
  return new Promise((resolve, reject) => {
    const startedMs = performance.now()
    const child = spawn(program, rest, { cwd: root, env, stdio: ['ignore', 'pipe', 'pipe'] })
    let stdout = ''
    let stderr = ''
    child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text))
    child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text))
    const timer =
      options.killAfterMs === undefined
        ? undefined
        : setTimeout(() => child.kill('SIGKILL'), options.killAfterMs)
    child.on('error', reject)
    child.on('close', (code, signal) => {
      clearTimeout(timer)
      resolve({ code, signal, stdout, stderr, ms: performance.now() - startedMs })
    })
  })
}
