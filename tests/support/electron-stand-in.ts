import type { Job } from '../../app/contract/door.ts'

interface Opened {
  readonly isOpen: boolean
  readonly preferences: unknown
  jobs(jobId: string): Promise<Job>
}

type Listener = (...values: unknown[]) => void

/**
 * As much of Electron as the desktop program needs to start, in a process without a screen. What it is
 * told it believes: whether the real one behaves so is not tested here.
 */
export function electronStandIn() {
  const handlers = new Map<string, (event: unknown, request: unknown) => Promise<unknown>>()
  const quitting: Listener[] = []
  const ended: Job[] = []
  const waiting = new Map<string, (job: Job) => void>()
  const nothing = () => undefined
  let open: (opened: Opened) => void = nothing
  const opened = new Promise<Opened>((resolve) => (open = resolve))
  let hasQuit: () => void = nothing
  const gone = new Promise<void>((resolve) => (hasQuit = resolve))

  const contents = {
    mainFrame: { url: 'cardwright://window/' },
    isDestroyed: () => false,
    send(_channel: string, job: Job) {
      if (job.state === 'running') return
      ended.push(job)
      waiting.get(job.jobId)?.(job)
    },
  }
  class BrowserWindow {
    readonly webContents = contents
    readonly once = nothing
    readonly preferences: unknown
    constructor(options: { webPreferences: unknown }) {
      this.preferences = options.webPreferences
    }
    loadURL(): Promise<void> {
      open({
        isOpen: true,
        preferences: this.preferences,
        jobs: (jobId) =>
          new Promise((resolve) => {
            const early = ended.find((job) => job.jobId === jobId)
            if (early === undefined) waiting.set(jobId, resolve)
            else resolve(early)
          }),
      })
      return Promise.resolve()
    }
  }
  const electron = {
    opened,
    app: {
      requestSingleInstanceLock: () => true,
      enableSandbox: nothing,
      commandLine: { appendSwitch: nothing },
      whenReady: () => Promise.resolve(),
      on: (name: string, listener: Listener) => void (name === 'will-quit' && quitting.push(listener)),
      quit: () => hasQuit(),
      exit: (code: number) => process.exit(code),
    },
    BrowserWindow,
    dialog: { showErrorBox: (title: string, text: string) => process.stderr.write(`${title}\n${text}\n`) },
    ipcMain: {
      handle: (name: string, handler: (event: unknown, request: unknown) => Promise<unknown>) =>
        void handlers.set(name, handler),
      removeHandler: (name: string) => void handlers.delete(name),
    },
    Menu: { setApplicationMenu: nothing },
    protocol: { registerSchemesAsPrivileged: nothing },
    session: {
      defaultSession: {
        on: nothing,
        setPermissionRequestHandler: nothing,
        setPermissionCheckHandler: nothing,
        setDevicePermissionHandler: nothing,
        webRequest: { onBeforeRequest: nothing },
        protocol: { handle: nothing },
      },
    },
    shell: { openExternal: () => Promise.resolve() },
  }
  return {
    electron,
    invoke: (name: string, request: unknown) =>
      handlers.get(name)?.({ sender: contents, senderFrame: contents.mainFrame }, request),
    /** Quits as the user would, and waits until the program let go of the workshop. */
    async quit() {
      for (const listener of quitting) listener({ preventDefault: nothing })
      await gone
    },
  }
}
