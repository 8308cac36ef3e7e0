import { spawn, type ChildProcess } from 'node:child_process'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'

export interface StartedChild {
  readonly process: ChildProcess
  /** Resolves once it has printed the word; rejects where it ended before. */
  says(word: string): Promise<void>
  /** All that it has printed so far. */
  printed(): string
  /** Resolves when it is gone. */
  readonly gone: Promise<void>
}

/** Starts a file of tests/support as a process of its own; it is killed with the test. */
export function startChild(file: string, ...args: string[]): StartedChild {
  return started(file, args, {})
}

/** Starts the command line as a process of its own; what it says on standard error counts too. */
export function startCli(...args: string[]): StartedChild {
  return started('../../main/cli/cli.ts', args, {}, 'pipe')
}

/** The same, as an account that may do nothing: root, which may do everything, tests no permission. */
export function startChildAsNobody(file: string, ...args: string[]): StartedChild {
  return started(file, args, process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {})
}

function started(
  file: string,
  args: readonly string[],
  account: { uid?: number; gid?: number },
  errors: 'inherit' | 'pipe' = 'inherit',
): StartedChild {
  const child = spawn(process.execPath, [join(import.meta.dirname, file), ...args], {
    stdio: ['pipe', 'pipe', errors],
    ...account,
  })
  onTestFinished(() => void child.kill('SIGKILL'))
  let printed = ''
  const outputs = [child.stdout, child.stderr].filter((stream) => stream !== null)
  for (const stream of outputs) stream.setEncoding('utf8').on('data', (text: string) => (printed += text))
  const gone = new Promise<void>((resolve) => child.once('close', () => resolve()))
  return {
    process: child,
    gone,
    printed: () => printed,
    says: (word) =>
      new Promise((resolve, reject) => {
        const look = () => printed.includes(word) && resolve()
        look()
        for (const stream of outputs) stream.on('data', look)
        void gone.then(() => reject(new Error(`${file} ended before it said "${word}"`)))
      }),
  }
}
