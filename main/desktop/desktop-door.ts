import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, session, shell } from 'electron'
import type { Core } from '../../app/contract/core.ts'
import { toReport } from '../../app/errors/app-error.ts'
import { openAnswers, type OnForeignChange } from '../answer.ts'
import { listFolder } from '../list-folder.ts'
import type { OpenSound } from '../sound-opener.ts'
import { readWindowFiles } from '../window-files.ts'
import { YOUNG_GARBAGE_FLAGS } from '../adapters/worker-limits.ts'
import { choosePath } from './choose-path.ts'
import { applyNavigationPolicy } from './navigation-policy.ts'
import { registerIpc } from './register-ipc.ts'
import { applySessionPolicy } from './session-policy.ts'
import { WINDOW_PAGE, WINDOW_SCHEME } from './window-address.ts'
import { windowOptions } from './window-options.ts'
import { WINDOW_SCHEME_PRIVILEGES, windowProtocol } from './window-protocol.ts'

/** The workshop as the desktop needs it. */
export interface OpenedWorkshop {
  readonly core: Core
  readonly openSound: OpenSound | null
  readonly onForeignChange: OnForeignChange
  close(): Promise<void>
}

export interface DesktopDoorOptions {
  readonly openWorkshop: () => Promise<OpenedWorkshop>
  /** Folder of the built window. */
  readonly windowFolder: string
  readonly preloadPath: string
  readonly onFault: (thrown: unknown) => void
}

/**
 * Runs the desktop door until its window is closed. A second start only brings the first one's window
 * to the front. Must be called before the app is ready.
 */
export async function openDesktopDoor(options: DesktopDoorOptions): Promise<void> {
  if (!app.requestSingleInstanceLock()) return app.quit()
  protocol.registerSchemesAsPrivileged([WINDOW_SCHEME_PRIVILEGES])
  app.enableSandbox()
  // For the page; the workers of this process have their own bound.
  app.commandLine.appendSwitch('js-flags', YOUNG_GARBAGE_FLAGS)
  app.on('window-all-closed', () => app.quit())
  app.on('web-contents-created', (_event, contents) =>
    applyNavigationPolicy(contents, (address) => shell.openExternal(address)),
  )
  await app.whenReady()
  try {
    await openWindow(options)
  } catch (thrown) {
    options.onFault(thrown)
    const { what, where, mend } = toReport(thrown)
    dialog.showErrorBox('Cardwright could not open', [what, where, mend].filter(Boolean).join('\n'))
    app.exit(3)
  }
}

async function openWindow(options: DesktopDoorOptions): Promise<void> {
  const files = readWindowFiles(options.windowFolder)
  const workshop = await options.openWorkshop()
  Menu.setApplicationMenu(null)
  applySessionPolicy(session.defaultSession)
  session.defaultSession.protocol.handle(WINDOW_SCHEME, windowProtocol(files, workshop.openSound))
  const window = new BrowserWindow(windowOptions(options.preloadPath))
  const answers = openAnswers(workshop.core, {
    onFault: options.onFault,
    onForeignChange: (listener) => workshop.onForeignChange(listener),
    abilities: {
      about: { door: 'desktop', choosesPaths: true, playsSounds: workshop.openSound !== null },
      choosePath: (request) => choosePath(dialog, window, request),
      listFolder,
    },
  })
  const stop = registerIpc(ipcMain, answers, window.webContents)
  app.on('second-instance', () => {
    if (window.isMinimized()) window.restore()
    window.focus()
  })
  // Running work is cancelled and leaves nothing half-made before the process ends.
  let isClosed = false
  app.on('will-quit', (event) => {
    if (isClosed) return
    event.preventDefault()
    stop()
    void answers
      .close()
      .then(() => workshop.close())
      .catch(options.onFault)
      .finally(() => {
        isClosed = true
        app.quit()
      })
  })
  window.once('ready-to-show', () => window.show())
  await window.loadURL(WINDOW_PAGE)
}
