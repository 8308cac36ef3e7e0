import { spawn } from 'node:child_process'
import { dirname, join } from 'node:path'
import { resourcesFolder } from './adapters/files/resources-folder.ts'
import { writeFaultLog } from './cli/fault-log.ts'
import { electronBinary } from './electron-binary.ts'
import type { Workshop } from './workshop.ts'

export interface OpenAppOptions {
  readonly openBrowser: boolean
  /** Ends the app. */
  readonly stop: AbortSignal
  readonly print: (line: string) => void
}

/**
 * Shows the window until it is closed or stopped: on the desktop where Electron's binary is there,
 * else in the user's browser, served on this machine only.
 *
 * @throws AppError `window/not-built`
 */
export async function openApp(workshop: Workshop, options: OpenAppOptions): Promise<void> {
  const binary = electronBinary()
  if (binary !== undefined && options.openBrowser) await showOnDesktop(workshop, options)
  else await serveToBrowser(workshop, options)
}

async function showOnDesktop(workshop: Workshop, { stop, print }: OpenAppOptions): Promise<void> {
  print('Opening the desktop window.')
  // The same folder may be open twice: writes are short, and each side learns of the other's.
  const child = spawn(process.execPath, [join(installationFolder(), 'main', 'run-desktop.mjs')], {
    stdio: 'inherit',
    env: { ...process.env, CARDWRIGHT_WORKSHOP: workshop.folder },
  })
  const end = () => void child.kill()
  stop.addEventListener('abort', end)
  await new Promise((resolve) => child.once('exit', resolve))
  stop.removeEventListener('abort', end)
}

async function serveToBrowser(
  workshop: Workshop,
  { openBrowser, stop, print }: OpenAppOptions,
): Promise<void> {
  const { buildRenderer } = await import('./loopback/build-renderer.ts')
  const { openLoopbackDoor } = await import('./loopback/loopback-door.ts')
  const windowFolder = await buildRenderer(installationFolder())
  const door = await openLoopbackDoor(workshop.core, {
    windowFolder,
    openSound: workshop.openSound,
    onForeignChange: (listener) => workshop.onForeignChange(listener),
    onFault: (thrown) => void writeFaultLog(thrown, workshop.folder, []),
  })
  try {
    print(`\nThe window is at ${door.url}`)
    print('(this address works once, on this machine only; Ctrl+C ends Cardwright)')
    if (openBrowser) await openInBrowser(door.url)
    await aborted(stop)
  } finally {
    await door.close()
  }
}

/** Where no browser can be opened, the printed address is left. */
async function openInBrowser(url: string): Promise<void> {
  try {
    const { default: open } = await import('open')
    const child = await open(url)
    child.on('error', () => undefined)
  } catch {
    // Told already: the address stands above.
  }
}

function aborted(signal: AbortSignal): Promise<void> {
  if (signal.aborted) return Promise.resolve()
  return new Promise((resolve) => {
    // A signal alone keeps no process alive; the door's server does.
    signal.addEventListener('abort', () => resolve(), { once: true })
  })
}

function installationFolder(): string {
  return dirname(resourcesFolder())
}
