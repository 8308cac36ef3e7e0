import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../../', import.meta.url))

export interface CliRun {
  readonly code: number | null
  readonly signal: NodeJS.Signals | null
  readonly stdout: string
  readonly stderr: string
}

export interface CliOptions {
  /** The folder the user stands in. */
  readonly cwd?: string
  readonly env?: Readonly<Record<string, string | undefined>>
  /** Another program of the project than the command line. */
  readonly script?: string
  /** Sent once standard error holds the text. */
  readonly interrupt?: { readonly when: string; readonly signal: NodeJS.Signals }
  /** Runs it under a shell's limit, such as `ulimit -f 1000;`. */
  readonly limits?: string
}

/** Runs the command line as the user does: a process of its own, its output and its exit code. */
export function runCli(args: readonly string[], options: CliOptions = {}): Promise<CliRun> {
  const script = `${root}${options.script ?? 'main/cli/cli.ts'}`
  const command = [process.execPath, script, ...args]
  const [program = '', ...rest] =
    options.limits === undefined
      ? command
      : ['/bin/bash', '-c', `${options.limits} exec "$@"`, 'bash', ...command]
  const env: NodeJS.ProcessEnv = { ...process.env, ...options.env }
  // What npm and Vitest tell their children is no part of the user's surroundings.
  if (options.env?.['INIT_CWD'] === undefined) delete env['INIT_CWD']
  if (options.env?.['CARDWRIGHT_WORKSHOP'] === undefined) delete env['CARDWRIGHT_WORKSHOP']
  delete env['NODE_OPTIONS']
  return new Promise((resolve, reject) => {
    const child = spawn(program, rest, { cwd: options.cwd ?? root, env, stdio: ['ignore', 'pipe', 'pipe'] })
    let stdout = ''
    let stderr = ''
    let interrupted = false
    child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text))
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text
      if (options.interrupt !== undefined && !interrupted && stderr.includes(options.interrupt.when)) {
        interrupted = true
        child.kill(options.interrupt.signal)
      }
    })
    child.on('error', reject)
    child.on('close', (code, signal) => resolve({ code, signal, stdout, stderr }))
  })
}
