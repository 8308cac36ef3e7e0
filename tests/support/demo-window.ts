import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import type { RunControl } from '../../app/ports/progress.ts'
import type { LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import { openWorkshop, type Workshop } from '../../main/workshop.ts'
import { launchBrowser, openPage, type OpenedPage, type Scheme } from './browser.ts'
import { serveWindow } from './served-window.ts'

/** For calls of the core from a test: nobody watches, nobody cancels. */
export const control: RunControl = { onProgress: () => undefined, cancel: new AbortController().signal }

export interface DemoWindow {
  /** A folder for this file's tests, with the workshop in it as `demo`. */
  readonly base: string
  readonly browser: Browser
  readonly workshop: Workshop
  readonly door: LoopbackDoor
  /** Opens a page of the window at one of its places, `/cards/make`. */
  at(place: string, scheme?: Scheme): Promise<OpenedPage>
  /** Address of a place, for a page that is open already. */
  addressOf(place: string): string
  /** Id of the edition of a font of this name. */
  fontId(name: string): Promise<string>
}

/** The window over the real core and a demo workshop of this file's own, in a real browser; all goes afterwards. */
export function demoWindow(): DemoWindow {
  const base = mkdtempSync(join(tmpdir(), 'cardwright-browser-'))
  let opened: { browser: Browser; workshop?: Workshop; door?: LoopbackDoor } | undefined

  beforeAll(async () => {
    opened = { browser: await launchBrowser() }
    const workshop = (opened.workshop = await openWorkshop({ folder: join(base, 'demo') }))
    await workshop.core['demo:prepare']({}, control)
    opened.door = await serveWindow(workshop.core, workshop.openSound)
  })
  afterAll(async () => {
    await opened?.browser.close()
    await opened?.door?.close()
    await opened?.workshop?.close()
    rmSync(base, { recursive: true, force: true })
  })

  function made<T>(thing: T | undefined): T {
    if (thing === undefined) throw new Error('The window is opened before the first test, not before.')
    return thing
  }

  const window: DemoWindow = {
    base,
    get browser() {
      return made(opened?.browser)
    },
    get workshop() {
      return made(opened?.workshop)
    },
    get door() {
      return made(opened?.door)
    },
    async at(place, scheme) {
      const page = await openPage(window.browser, window.door.newUrl(), scheme)
      await page.page.goto(window.addressOf(place))
      return page
    },
    addressOf: (place) => `${new URL(window.door.url).origin}/#${place}`,
    async fontId(name) {
      const { fonts } = await window.workshop.core['fonts:list']({}, control)
      const row = fonts.find(({ font }) => font.name === name)
      if (row === undefined) throw new Error(`The demo has no font ${name}.`)
      return row.id
    },
  }
  return window
}
