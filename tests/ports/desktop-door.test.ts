import { readFileSync, rmSync } from 'node:fs'
import { afterAll, beforeEach, describe, expect, test, vi } from 'vitest'
import { CHANNELS } from '../../app/contract/door.ts'
import { AppError } from '../../app/errors/app-error.ts'
import { openDesktopDoor } from '../../main/desktop/desktop-door.ts'
import { coreDouble, SCANNED, STATUS } from '../support/core-double.ts'
import { electronDouble, preventable } from '../support/electron-double.ts'
import { writtenWindowFolder } from '../support/window-folder.ts'

let electron = vi.hoisted(
  () => ({}) as ReturnType<typeof import('../support/electron-double.ts').electronDouble>,
)
vi.mock('electron', () => {
  // Each test has a fresh double; the modules under test keep this one face of it.
  const names = [
    'app',
    'BrowserWindow',
    'contextBridge',
    'dialog',
    'ipcMain',
    'ipcRenderer',
    'Menu',
    'protocol',
    'session',
    'shell',
  ] as const
  const face: Record<string, unknown> = {}
  for (const name of names) Object.defineProperty(face, name, { enumerable: true, get: () => electron[name] })
  return face
})

const { folder, base } = writtenWindowFolder()
const onFault = vi.fn()
const close = vi.fn(() => Promise.resolve())
const core = coreDouble({
  'workshop:status': () => Promise.resolve(STATUS),
  scan: () => Promise.resolve(SCANNED),
})
const SOUND = Uint8Array.of(1, 2, 3, 4)
const stopHearing = vi.fn()
const onForeignChange = vi.fn((_listener: () => void) => stopHearing)

function open(change: Partial<Parameters<typeof openDesktopDoor>[0]> = {}) {
  return openDesktopDoor({
    openWorkshop: () =>
      Promise.resolve({
        core,
        close,
        onForeignChange,
        openSound: (id, preparedFor) =>
          id === 'hum-1' && preparedFor !== 'no-such'
            ? Promise.resolve({
                sizeBytes: SOUND.length,
                read: (start: number, end: number) => new Blob([SOUND.slice(start, end)]).stream(),
              })
            : Promise.reject(new AppError({ code: 'sound/unknown', what: 'None.', where: id, mend: '' })),
      }),
    windowFolder: folder,
    preloadPath: '/app/preload.cjs',
    onFault,
    ...change,
  })
}

beforeEach(() => {
  electron = electronDouble()
  vi.clearAllMocks()
})
afterAll(() => rmSync(base, { recursive: true }))

/** Waits however busy the machine is. */
const waitFor = (check: () => void) => vi.waitFor(check, { timeout: 20_000 })

/** The last value that a recorded function was called with. */
const lastArgument = (mock: { readonly mock: { readonly calls: unknown[][] } }) =>
  mock.mock.calls.at(-1)?.at(-1)
const ours = () => ({ sender: electron.contents, senderFrame: electron.contents.mainFrame })
const callOf = (name: string) => electron.handlers.get(name)!

describe('the window', () => {
  test('is sandboxed, isolated, and has no Node in its page', async () => {
    await open()
    expect(electron.windows).toHaveLength(1)
    expect(electron.windows[0]).toMatchObject({
      options: {
        webPreferences: {
          preload: '/app/preload.cjs',
          sandbox: true,
          contextIsolation: true,
          nodeIntegration: false,
          nodeIntegrationInWorker: false,
          nodeIntegrationInSubFrames: false,
          webviewTag: false,
          webSecurity: true,
        },
      },
    })
    expect(electron.app.enableSandbox).toHaveBeenCalledOnce()
    expect((electron.windows[0] as { loadURL: unknown }).loadURL).toHaveBeenCalledWith('cardwright://window/')
  })

  test('young garbage is collected early, as at every other start', async () => {
    await open()
    expect(electron.app.commandLine.appendSwitch).toHaveBeenCalledWith('js-flags', '--max-semi-space-size=2')
    expect(readFileSync('main/bootstrap.mjs', 'utf8')).toContain("['--max-semi-space-size=2']")
  })

  test('a second start opens no second window, and brings the first to the front', async () => {
    await open()
    electron.app.emit('second-instance')
    const window = electron.windows[0] as { focus: unknown; restore: unknown }
    expect(window.restore).toHaveBeenCalledOnce()
    expect(window.focus).toHaveBeenCalledOnce()

    electron = electronDouble()
    electron.app.requestSingleInstanceLock.mockReturnValue(false)
    await open()
    expect(electron.windows).toHaveLength(0)
    expect(electron.app.quit).toHaveBeenCalledOnce()
  })

  test('a workshop that cannot be opened is told in its own words, and the program ends with 3', async () => {
    const told = { code: 'workshop/newer', what: 'It is of a newer version.', where: '/w', mend: 'Update.' }
    await open({ openWorkshop: () => Promise.reject(new AppError(told)) })
    expect(electron.dialog.showErrorBox).toHaveBeenCalledWith(
      'Cardwright could not open',
      'It is of a newer version.\n/w\nUpdate.',
    )
    expect(electron.app.exit).toHaveBeenCalledWith(3)
  })

  test('the workshop is closed before the program ends', async () => {
    await open()
    const quitting = preventable({})
    electron.app.emit('will-quit', quitting)
    expect(quitting.preventDefault).toHaveBeenCalledOnce()
    await waitFor(() => expect(electron.app.quit).toHaveBeenCalledOnce())
    expect(close).toHaveBeenCalledOnce()
    const again = preventable({})
    electron.app.emit('will-quit', again)
    expect(again.preventDefault).not.toHaveBeenCalled()
  })
})

describe('what the page may not do', () => {
  test.each(['media', 'geolocation', 'notifications', 'usb', 'clipboard-read', 'fileSystem', 'openExternal'])(
    'it gets no permission for %s',
    async (permission) => {
      await open()
      const { defaultSession } = electron.session
      const decide = vi.fn()
      const request = lastArgument(defaultSession.setPermissionRequestHandler) as (...all: unknown[]) => void
      request(electron.contents, permission, decide)
      expect(decide).toHaveBeenCalledExactlyOnceWith(false)
      const check = lastArgument(defaultSession.setPermissionCheckHandler) as (...all: unknown[]) => boolean
      expect(check(electron.contents, permission)).toBe(false)
      const device = lastArgument(defaultSession.setDevicePermissionHandler) as () => boolean
      expect(device()).toBe(false)
    },
  )

  test('it downloads nothing', async () => {
    await open()
    const download = preventable({})
    electron.session.defaultSession.emit('will-download', download)
    expect(download.preventDefault).toHaveBeenCalledOnce()
  })

  test.each([
    { url: 'cardwright://window/assets/window.js', cancel: false },
    { url: 'https://elsewhere.example/x.js', cancel: true },
    { url: 'file:///etc/passwd', cancel: true },
    { url: 'cardwright://elsewhere/', cancel: true },
    { url: 'data:text/html,x', cancel: true },
    { url: 'not an address', cancel: true },
  ])('a request to $url is cancelled: $cancel', async ({ url, cancel }) => {
    await open()
    const decide = vi.fn()
    const before = lastArgument(electron.session.defaultSession.webRequest.onBeforeRequest) as (
      ...all: unknown[]
    ) => void
    before({ url }, decide)
    expect(decide).toHaveBeenCalledExactlyOnceWith({ cancel })
  })

  test.each([
    { url: 'cardwright://window/', isAllowed: true },
    { url: 'cardwright://window/#/cards', isAllowed: true },
    { url: 'cardwright://window/assets/window.js', isAllowed: false },
    { url: 'https://elsewhere.example/', isAllowed: false },
    { url: 'file:///etc/passwd', isAllowed: false },
    { url: 'javascript:alert(1)', isAllowed: false },
    { url: 'cardwright://window.elsewhere.example/', isAllowed: false },
  ])('it navigates to $url: $isAllowed', async ({ url, isAllowed }) => {
    await open()
    electron.app.emit('web-contents-created', {}, electron.contents)
    const going = preventable({ url })
    electron.contents.emit('will-navigate', going)
    expect(going.preventDefault).toHaveBeenCalledTimes(isAllowed ? 0 : 1)
  })

  test('it follows no redirect, loads no frame and no webview', async () => {
    await open()
    electron.app.emit('web-contents-created', {}, electron.contents)
    for (const [name, more] of [
      ['will-redirect', {}],
      ['will-frame-navigate', { isMainFrame: false }],
      ['will-attach-webview', {}],
    ] as const) {
      const event = preventable(more)
      electron.contents.emit(name, event)
      expect(event.preventDefault, name).toHaveBeenCalledOnce()
    }
  })

  test.each([
    { url: 'https://creator.example/licence', opens: true },
    { url: 'http://creator.example/', opens: false },
    { url: 'file:///etc/passwd', opens: false },
    { url: 'javascript:alert(1)', opens: false },
    { url: 'smb://share/x', opens: false },
    { url: 'https:', opens: false },
  ])('it opens no new window for $url; in the browser: $opens', async ({ url, opens }) => {
    await open()
    electron.app.emit('web-contents-created', {}, electron.contents)
    const handler = lastArgument(electron.contents.setWindowOpenHandler) as (details: {
      url: string
    }) => unknown
    expect(handler({ url })).toEqual({ action: 'deny' })
    expect(electron.shell.openExternal.mock.calls).toEqual(opens ? [[url]] : [])
  })
})

describe('calls', () => {
  test('every name of the contract is answered, and no other', async () => {
    await open()
    expect([...electron.handlers.keys()].sort()).toEqual([...CHANNELS].sort())
  })

  test('our own page is answered', async () => {
    await open()
    expect(await callOf('workshop:status')(ours(), {})).toEqual({ ok: true, value: STATUS })
  })

  test.each([
    { name: 'another window', event: () => ({ ...ours(), sender: {} }) },
    {
      name: 'a frame inside the page',
      event: () => ({ ...ours(), senderFrame: { url: 'cardwright://window/' } }),
    },
    { name: 'a frame that is gone', event: () => ({ ...ours(), senderFrame: null }) },
  ])('$name is refused', async ({ event }) => {
    await open()
    expect(await callOf('workshop:status')(event(), {})).toMatchObject({
      ok: false,
      error: { code: 'door/foreign-sender' },
    })
  })

  test('our frame is refused while it shows another page', async () => {
    await open()
    electron.contents.mainFrame.url = 'https://elsewhere.example/'
    expect(await callOf('workshop:status')(ours(), {})).toMatchObject({ ok: false })
  })

  test('a long call tells the window of its job', async () => {
    await open()
    const answer = (await callOf('scan')(ours(), { paths: ['/fonts'] })) as { value: { jobId: string } }
    await waitFor(() =>
      expect(electron.contents.send).toHaveBeenCalledWith(
        'job',
        expect.objectContaining({ jobId: answer.value.jobId, state: 'done', value: SCANNED }),
      ),
    )
  })

  test('a change by another process is told to the window until it closes', async () => {
    await open()
    const tell = lastArgument(onForeignChange) as () => void
    tell()
    expect(electron.contents.send.mock.calls).toEqual([['changed']])
    electron.app.emit('will-quit', preventable({}))
    expect(stopHearing).toHaveBeenCalledOnce()
  })

  test('a folder is chosen in the dialog of the system, and a cancelled dialog chooses none', async () => {
    await open()
    expect(await callOf('door:choose-path')(ours(), { kind: 'folder' })).toEqual({
      ok: true,
      value: { path: '/fonts' },
    })
    expect(lastArgument(electron.dialog.showOpenDialog)).toEqual({ properties: ['openDirectory'] })
    expect(await callOf('door:choose-path')(ours(), { kind: 'image-to-write', suggested: '/a.img' })).toEqual(
      {
        ok: true,
        value: { path: null },
      },
    )
    expect(lastArgument(electron.dialog.showSaveDialog)).toMatchObject({ defaultPath: '/a.img' })
  })
})

describe('what the page is served', () => {
  const fetched = async (url: string, init?: RequestInit) => {
    await open()
    const handle = lastArgument(electron.session.defaultSession.protocol.handle) as (
      request: Request,
    ) => Promise<Response>
    return handle(new Request(url, init))
  }

  test('its page, with a policy that allows no inline script', async () => {
    const response = await fetched('cardwright://window/')
    expect(response.headers.get('content-security-policy')).toContain("script-src 'self';")
    expect(response.headers.get('content-security-policy')).not.toContain('unsafe')
    expect(response.headers.get('x-content-type-options')).toBe('nosniff')
  })

  test('a sound by its id, in the range asked for', async () => {
    const response = await fetched('cardwright://window/sound/hum-1', { headers: { range: 'bytes=1-2' } })
    expect(response.status).toBe(206)
    expect(new Uint8Array(await response.arrayBuffer())).toEqual(SOUND.slice(1, 3))
    const prepared = 'cardwright://window/sound/hum-1?prepared-for='
    expect((await fetched(`${prepared}bench-44`)).status).toBe(200)
    expect((await fetched(`${prepared}no-such`)).status).toBe(404)
  })

  test.each([
    { url: 'cardwright://window/assets/window.js', status: 200 },
    { url: 'cardwright://window/assets/window.js.map', status: 404 },
    { url: 'cardwright://window/..%2fsecret.js', status: 404 },
    { url: 'cardwright://window/../secret.js', status: 404 },
    { url: 'cardwright://window/sound/%2fetc%2fpasswd', status: 404 },
    { url: 'cardwright://window/sound/%E0%A4%A', status: 404 },
    { url: 'cardwright://elsewhere/assets/window.js', status: 403 },
  ])('$url is answered with $status', async ({ url, status }) => {
    const response = await fetched(url)
    expect(response.status).toBe(status)
    if (status !== 200) expect(await response.text()).not.toContain('secret beside')
  })

  test('nothing is taken by POST', async () => {
    expect((await fetched('cardwright://window/', { method: 'POST' })).status).toBe(403)
  })
})

describe('the preload', () => {
  test('hands the page calls by listed names, job events and changes by others, and nothing of Electron', async () => {
    vi.resetModules()
    await import('../../main/desktop/preload/preload.ts')
    const [name, bridge] = electron.contextBridge.exposeInMainWorld.mock.calls[0] as [
      string,
      {
        send(channel: unknown, request: unknown): Promise<unknown>
        onJob(listener: unknown): () => void
        onChanged(listener: unknown): () => void
      },
    ]
    expect(electron.contextBridge.exposeInMainWorld).toHaveBeenCalledOnce()
    expect(name).toBe('cardwright')
    expect(Object.keys(bridge).sort()).toEqual(['onChanged', 'onJob', 'send'])
    await expect(bridge.send('scan', { paths: ['/fonts'] })).resolves.toBe('answered')
    expect(electron.ipcRenderer.invoke).toHaveBeenCalledExactlyOnceWith('scan', { paths: ['/fonts'] })
    for (const wrong of ['shell:open', 'job', 'constructor', ['scan'], null]) {
      await expect(bridge.send(wrong, {})).rejects.toThrow('no such call')
    }
    expect(electron.ipcRenderer.invoke).toHaveBeenCalledOnce()
    expect(electron.ipcRenderer.sendSync).not.toHaveBeenCalled()

    const listener = vi.fn()
    const stop = bridge.onJob(listener)
    const forward = lastArgument(electron.ipcRenderer.on) as (event: unknown, job: unknown) => void
    forward({ sender: 'inner' }, { jobId: 'a' })
    expect(listener).toHaveBeenCalledExactlyOnceWith({ jobId: 'a' })
    stop()
    expect(electron.ipcRenderer.off).toHaveBeenCalledWith('job', forward)

    const changed = vi.fn()
    const stopChanges = bridge.onChanged(changed)
    const forwardChange = lastArgument(electron.ipcRenderer.on) as (event: unknown) => void
    forwardChange({ sender: 'inner' })
    expect(changed).toHaveBeenCalledExactlyOnceWith()
    stopChanges()
    expect(electron.ipcRenderer.off).toHaveBeenCalledWith('changed', forwardChange)
  })
})
