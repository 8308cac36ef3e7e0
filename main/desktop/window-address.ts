/** Where the window's page lives: a scheme of our own, so that nothing of it is a file: address. */
export const WINDOW_SCHEME = 'cardwright'
export const WINDOW_ORIGIN = `${WINDOW_SCHEME}://window`
export const WINDOW_PAGE = `${WINDOW_ORIGIN}/`

/** Whether an address belongs to our window, by its parsed scheme and host. */
export function isOfWindow(address: string): boolean {
  if (!URL.canParse(address)) return false
  const { protocol, host, username, port } = new URL(address)
  return protocol === `${WINDOW_SCHEME}:` && host === 'window' && username === '' && port === ''
}
