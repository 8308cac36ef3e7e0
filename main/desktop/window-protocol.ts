import type { OpenSound } from '../sound-opener.ts'
import { soundResponse } from '../sound-response.ts'
import { SAFE_HEADERS, type WindowFiles } from '../window-files.ts'
import { isOfWindow, WINDOW_SCHEME } from './window-address.ts'

/** How the scheme behaves; must be registered before the app is ready. */
export const WINDOW_SCHEME_PRIVILEGES = {
  scheme: WINDOW_SCHEME,
  privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true, codeCache: true },
} as const

const SOUND_PATH = /^\/sound\/([^/]+)$/

/** Answers every address of our scheme: the page, its files, sounds by id, and nothing else. */
export function windowProtocol(files: WindowFiles, openSound: OpenSound | null) {
  return async function handle(request: Request): Promise<Response> {
    if (!isOfWindow(request.url) || request.method !== 'GET') return refused(403)
    const { pathname, searchParams } = new URL(request.url)
    if (pathname === '/') {
      const { html, headers } = files.page()
      return new Response(html, {
        headers: { ...SAFE_HEADERS, ...headers, 'content-type': 'text/html; charset=utf-8' },
      })
    }
    const soundId = SOUND_PATH.exec(pathname)?.[1]
    if (soundId !== undefined && openSound !== null) {
      const { status, headers, body } = await soundResponse(openSound, {
        soundId: decoded(soundId),
        preparedForBoardId: searchParams.get('prepared-for') ?? undefined,
        rangeHeader: request.headers.get('range') ?? undefined,
      })
      return new Response(body, { status, headers: { ...SAFE_HEADERS, ...headers } })
    }
    const file = files.file(pathname)
    if (file === undefined) return refused(404)
    return new Response(new Uint8Array(file.bytes), {
      headers: { ...SAFE_HEADERS, 'content-type': file.mediaType },
    })
  }
}

function refused(status: number): Response {
  return new Response(null, { status, headers: SAFE_HEADERS })
}

/** An id that is not well escaped is no id; it is looked up as it stands, and found nowhere. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}
