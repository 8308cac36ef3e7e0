import { randomBytes } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { extname, join, relative, sep } from 'node:path'
import { AppError } from '../app/errors/app-error.ts'

/** One file of the window's bundle, or its page. */
export interface WindowFile {
  readonly bytes: Buffer
  readonly mediaType: string
}

/** The built window, read once: what is not in this list cannot be served, whatever a path says. */
export interface WindowFiles {
  /** The page with a fresh nonce for its styles, and the headers that go with it. */
  page(): { readonly html: string; readonly headers: Readonly<Record<string, string>> }
  /** By path from the bundle's root with a leading slash, exactly as built; undefined for all else. */
  file(urlPath: string): WindowFile | undefined
}

/** Stands in the built page wherever the nonce belongs; see electron.vite.config.ts. */
export const NONCE_PLACEHOLDER = 'NONCE-OF-THIS-PAGE'

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
}

/**
 * Reads the built window.
 * @throws AppError `window/not-built` where there is none.
 */
export function readWindowFiles(folder: string): WindowFiles {
  const pagePath = join(folder, 'index.html')
  if (!existsSync(pagePath)) {
    throw new AppError({
      code: 'window/not-built',
      what: 'The window is not built.',
      where: folder,
      mend: 'Run `npm run build` and start again.',
      kind: 'machine',
    })
  }
  const template = readFileSync(pagePath, 'utf8')
  const files = new Map<string, WindowFile>()
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    const mediaType = MEDIA_TYPES[extname(entry.name)]
    if (!entry.isFile() || mediaType === undefined) continue
    const path = join(entry.parentPath, entry.name)
    const urlPath = `/${relative(folder, path).split(sep).join('/')}`
    files.set(urlPath, { bytes: readFileSync(path), mediaType })
  }
  return {
    page() {
      const nonce = randomBytes(18).toString('base64')
      return { html: template.replaceAll(NONCE_PLACEHOLDER, nonce), headers: pageHeaders(nonce) }
    },
    file: (urlPath) => files.get(urlPath),
  }
}

/**
 * Nothing but what this origin serves runs, loads or is called; no script and no style stands in the
 * page itself but style elements with this page's nonce, which the component library creates.
 * Source: W3C Content Security Policy Level 3; the headers besides it, the OWASP Secure Headers list
 * (from memory).
 */
function pageHeaders(nonce: string): Readonly<Record<string, string>> {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self'",
    "media-src 'self'",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ]
  return { 'content-security-policy': policy.join('; ') }
}

/** Headers of every answer of a door, the page's own aside. */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy':
    "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
  'cache-control': 'no-store',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=()',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
}
