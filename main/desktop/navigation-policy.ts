import type { WebContents } from 'electron'
import { isOfWindow, WINDOW_PAGE } from './window-address.ts'

/** Opens an address in the user's browser. */
export type OpenOutside = (address: string) => Promise<void>

/** Keeps the window on its page; a link that leads outside opens in the browser, if it is https. */
export function applyNavigationPolicy(contents: WebContents, openOutside: OpenOutside): void {
  contents.setWindowOpenHandler(({ url }) => {
    if (isHttps(url)) void openOutside(url)
    return { action: 'deny' }
  })
  contents.on('will-navigate', (event) => {
    if (!isPage(event.url)) event.preventDefault()
  })
  contents.on('will-redirect', (event) => event.preventDefault())
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame) event.preventDefault()
  })
  contents.on('will-attach-webview', (event) => event.preventDefault())
}

/** The page itself may reload; its own places are behind the `#`. */
function isPage(address: string): boolean {
  return isOfWindow(address) && (address.split('#', 1)[0] ?? '') === WINDOW_PAGE
}

function isHttps(address: string): boolean {
  return URL.canParse(address) && new URL(address).protocol === 'https:'
}
