import type { Session } from 'electron'
import { isOfWindow } from './window-address.ts'

/** Refuses the page every permission, every device, every download, and every request that leaves it. */
export function applySessionPolicy(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, decide) => decide(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  session.on('will-download', (event) => event.preventDefault())
  session.webRequest.onBeforeRequest((details, decide) => decide({ cancel: !isOfWindow(details.url) }))
}
