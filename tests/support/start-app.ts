import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../../', import.meta.url))

export interface StartedApp {
  /** Lets one browser in. */
  readonly url: string
  /** Ends it as Ctrl+C does. @returns its exit code */
  end(): Promise<number | null>
}

/** The program as `npm start -- --no-open` runs it: a process of its own that serves the window. */
export function startApp(workshopFolder: string): Promise<StartedApp> {
  const child = spawn(process.execPath, ['main/start.ts', '--no-open', '--workshop', workshopFolder], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const gone = new Promise<number | null>((resolve) => child.once('close', (code) => resolve(code)))
  let printed = ''
  return new Promise((resolve, reject) => {
    const hear = (text: string): void => {
      printed += text
      const url = /The window is at (\S+)/.exec(printed)?.[1]
      if (url === undefined) return
      resolve({
        url,
        end() {
          child.kill('SIGINT')
          return gone
        },
      })
    }
    child.stdout.setEncoding('utf8').on('data', hear)
    child.stderr.setEncoding('utf8').on('data', hear)
    void gone.then((code) => reject(new Error(`it ended with ${code} before it served: ${printed}`)))
  })
}
