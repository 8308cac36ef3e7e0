import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { vi } from 'vitest'

const root = fileURLToPath(new URL('../../', import.meta.url))

const NOBODY = 65_534

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
  /** Sent once standard output holds the text. */
  readonly interruptOnOutput?: { readonly when: string; readonly signal: NodeJS.Signals }
  /** Runs it under a shell's limit, such as `ulimit -f 1000;`. */
  readonly limits?: string
  /** Runs it as a user without rights of its own, where the tests run as root. */
  readonly asNobody?: boolean
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
    const isRoot = process.getuid?.() === 0
    const child = spawn(program, rest, {
      cwd: options.cwd ?? root,
      env,
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(options.asNobody === true && isRoot ? { uid: NOBODY, gid: NOBODY } : {}),
    })
    let stdout = ''
    let stderr = ''
    const interruptOnce = (text: string, interrupt: CliOptions['interrupt']) => {
      if (interrupt === undefined || interrupted || !text.includes(interrupt.when)) return
      interrupted = true
      child.kill(interrupt.signal)
    }
    let interrupted = false
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text
      interruptOnce(stdout, options.interruptOnOutput)
    })
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text
      interruptOnce(stderr, options.interrupt)
    })
    child.on('error', reject)
    child.on('close', (code, signal) => resolve({ code, signal, stdout, stderr }))
  })
}

/** Lines of standard error that tell something, progress left out. */
export function toldLines(run: CliRun): readonly string[] {
  return run.stderr
    .split('\n')
    .filter(
      (line) =>
        line !== '' && !/^[a-z ]+: [\d.]+ ?[A-Za-z]* of |^[a-z ]+: [\d.]+ [A-Za-z]+( \(|$)/.test(line),
    )
}

/**
 * Runs the command line inside this process: the same code, its output caught. For tests of many
 * commands, where a process for each would only cost time.
 */
export async function runCliHere(args: readonly string[], options: CliOptions = {}): Promise<CliRun> {
  const caught = { stdout: '', stderr: '' }
  const spies = (['stdout', 'stderr'] as const).map((name) =>
    vi.spyOn(process[name], 'write').mockImplementation((text) => {
      caught[name] += String(text)
      return true
    }),
  )
  vi.stubEnv('INIT_CWD', options.cwd ?? root)
  vi.stubEnv('CARDWRIGHT_WORKSHOP', undefined)
  try {
    const { runCommandLine } = await import('../../main/cli/run-command-line.ts')
    const code = await runCommandLine(args)
    return { code, signal: null, ...caught }
  } finally {
    vi.unstubAllEnvs()
    for (const spy of spies) spy.mockRestore()
  }
}
