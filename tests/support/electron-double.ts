import { vi, type Mock } from 'vitest'

type Listener = (...values: never[]) => unknown

/** A function that records its calls; what it is called with is not held to anything. */
function recorded<R>(answer: (...values: never[]) => R): Mock<(...values: unknown[]) => R> {
  return vi.fn(answer as (...values: unknown[]) => R)
}
const silent = () => recorded(() => undefined)

/** Something of Electron that events are heard on; `emit` lets them happen. */
function emitter() {
  const listeners = new Map<string, Listener[]>()
  const on = recorded((name: string, listener: Listener) => {
    listeners.set(name, [...(listeners.get(name) ?? []), listener])
  })
  return {
    on,
    once: on,
    emit: (name: string, ...values: unknown[]) =>
      (listeners.get(name) ?? []).map((listener) => listener(...(values as never[]))),
  }
}

/** An event that tells whether its default was prevented. */
export function preventable<T extends object>(more: T) {
  return { ...more, preventDefault: silent() }
}

/** A double of the `electron` module that records its calls; the real one starts a download. */
export function electronDouble() {
  const contents = {
    ...emitter(),
    mainFrame: { url: 'cardwright://window/' },
    setWindowOpenHandler: silent(),
    send: silent(),
    isDestroyed: recorded(() => false),
  }
  const windows: unknown[] = []
  class BrowserWindow {
    readonly webContents = contents
    readonly once = emitter().once
    readonly loadURL = recorded(() => Promise.resolve())
    readonly show = silent()
    readonly focus = silent()
    readonly restore = silent()
    readonly isMinimized = recorded(() => true)
    readonly options: unknown
    constructor(options: unknown) {
      this.options = options
      windows.push(this)
    }
  }
  const handlers = new Map<string, (event: unknown, request: unknown) => unknown>()
  const defaultSession = {
    ...emitter(),
    setPermissionRequestHandler: silent(),
    setPermissionCheckHandler: silent(),
    setDevicePermissionHandler: silent(),
    webRequest: { onBeforeRequest: silent() },
    protocol: { handle: silent() },
  }
  return {
    windows,
    contents,
    handlers,
    app: {
      ...emitter(),
      requestSingleInstanceLock: recorded(() => true),
      enableSandbox: silent(),
      commandLine: { appendSwitch: silent() },
      whenReady: recorded(() => Promise.resolve()),
      getPath: recorded(() => '/data'),
      quit: silent(),
      exit: silent(),
    },
    BrowserWindow,
    contextBridge: { exposeInMainWorld: silent() },
    dialog: {
      showOpenDialog: recorded(() => Promise.resolve({ canceled: false, filePaths: ['/fonts'] })),
      showSaveDialog: recorded(() => Promise.resolve({ canceled: true, filePath: '' })),
      showErrorBox: silent(),
    },
    ipcMain: {
      handle: recorded((name: string, handler: (event: unknown, request: unknown) => unknown) => {
        handlers.set(name, handler)
      }),
      removeHandler: recorded((name: string) => handlers.delete(name)),
    },
    ipcRenderer: {
      invoke: recorded(() => Promise.resolve('answered')),
      on: silent(),
      off: silent(),
      sendSync: silent(),
    },
    Menu: { setApplicationMenu: silent() },
    protocol: { registerSchemesAsPrivileged: silent() },
    session: { defaultSession },
    shell: { openExternal: recorded(() => Promise.resolve()) },
  }
}
