import { rmSync } from 'node:fs'
import { request as httpRequest, type IncomingMessage, type OutgoingHttpHeaders } from 'node:http'
import { connect } from 'node:net'
import { networkInterfaces } from 'node:os'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import type { Job } from '../../app/contract/door.ts'
import { AppError, Cancelled } from '../../app/errors/app-error.ts'
import { openLoopbackDoor, type LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import { coreDouble, SCANNED, STATUS } from '../support/core-double.ts'
import { writtenWindowFolder } from '../support/window-folder.ts'

const { folder, base } = writtenWindowFolder()
const onFault = vi.fn()
const SOUND = Uint8Array.from({ length: 1000 }, (_, index) => index % 251)
const PREPARED = SOUND.slice(0, 500).reverse()
const changeListeners = new Set<() => void>()
let door: LoopbackDoor
let origin: string
let host: string
let cookie: string

beforeAll(async () => {
  const core = coreDouble({
    'workshop:status': () => Promise.resolve(STATUS),
    'builds:list': () => Promise.reject(new RangeError('inner detail')),
    async scan(_request, { onProgress, cancel }) {
      onProgress({ phase: 'reading', done: 1, total: 2, unit: 'files', current: null })
      if (cancel.aborted) throw new Cancelled()
      return Promise.resolve(SCANNED)
    },
  })
  door = await openLoopbackDoor(core, {
    windowFolder: folder,
    onFault,
    onForeignChange(listener) {
      changeListeners.add(listener)
      return () => changeListeners.delete(listener)
    },
    openSound(soundId, preparedFor) {
      if (soundId !== 'hum-1' || preparedFor === 'no-such') {
        const told = { code: 'sound/unknown', what: 'There is no such sound.', where: soundId, mend: '' }
        return Promise.reject(new AppError(told))
      }
      const bytes = preparedFor === undefined ? SOUND : PREPARED
      const read = (start: number, end: number) => new Blob([bytes.slice(start, end)]).stream()
      return Promise.resolve({ sizeBytes: bytes.length, read })
    },
  })
  origin = new URL(door.url).origin
  host = new URL(door.url).host
  const entered = await ask({ path: pathOf(door.url) })
  cookie = entered.setCookie.split(';')[0] ?? ''
})

afterAll(async () => {
  await door.close()
  rmSync(base, { recursive: true })
})

interface Asked {
  readonly method?: string
  readonly path: string
  readonly headers?: OutgoingHttpHeaders
  readonly body?: string | Buffer
}

interface Answered {
  readonly status: number
  readonly headers: IncomingMessage['headers']
  readonly setCookie: string
  readonly body: Buffer
}

/** A bare HTTP request, so that Host, Origin and path go out exactly as given. */
function ask({ method = 'GET', path, headers = {}, body }: Asked): Promise<Answered> {
  const { hostname, port } = new URL(door.url)
  return new Promise((resolve, reject) => {
    const sent = httpRequest({ hostname, port, method, path, headers, agent: false }, (response) => {
      const chunks: Buffer[] = []
      response.on('data', (chunk: Buffer) => chunks.push(chunk))
      response.on('error', reject)
      response.on('end', () =>
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          setCookie: response.headers['set-cookie']?.[0] ?? '',
          body: Buffer.concat(chunks),
        }),
      )
    })
    sent.on('error', reject)
    sent.end(body)
  })
}

const pathOf = (url: string) => url.slice(new URL(url).origin.length)
const json = { 'content-type': 'application/json' }
const call = (name: string, request: unknown, headers: OutgoingHttpHeaders = {}) =>
  ask({
    method: 'POST',
    path: `/call/${name}`,
    headers: { ...json, cookie, origin, ...headers },
    body: JSON.stringify(request),
  })
const codeOf = (answered: Answered) =>
  (JSON.parse(answered.body.toString()) as { error: { code: string } }).error.code

describe('coming in', () => {
  test('the address lets a browser in once, by a strict cookie that scripts cannot read', async () => {
    const path = pathOf(door.newUrl())
    const first = await ask({ path })
    expect(first.status).toBe(200)
    expect(first.setCookie).toMatch(/^cardwright-\d+=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/)
    expect(first.headers).toMatchObject({ 'cache-control': 'no-store', 'referrer-policy': 'no-referrer' })
    const second = await ask({ path })
    expect(second.status).toBe(403)
    expect(second.setCookie).toBe('')
    expect(second.body.toString()).toContain('This address was used already')
  })

  test.each(['/enter', '/enter?token=', '/enter?token=guess', '/enter?token=a&token=b'])(
    '%s lets nobody in',
    async (path) => {
      const answered = await ask({ path })
      expect(answered.status).toBe(403)
      expect(answered.setCookie).toBe('')
    },
  )

  test.each([
    { method: 'GET', path: '/' },
    { method: 'GET', path: '/assets/window.js' },
    { method: 'GET', path: '/jobs' },
    { method: 'GET', path: '/sound/hum-1' },
    { method: 'POST', path: '/call/workshop:status' },
    { method: 'GET', path: '/nowhere' },
  ])('$method $path is closed without a session', async ({ method, path }) => {
    for (const wrong of [{}, { cookie: `cardwright-${host.split(':')[1]}=guess` }]) {
      const body = method === 'POST' ? { body: '{}' } : {}
      const answered = await ask({ method, path, headers: { ...json, origin, ...wrong }, ...body })
      expect(answered.status).toBe(401)
      expect(codeOf(answered)).toBe('door/no-session')
    }
  })
})

describe('only this door, from its own page', () => {
  test.each(['rebound.example', 'localhost', '127.0.0.1', '127.0.0.1:1', '0.0.0.0', '[::1]'])(
    'the host name %s is refused, even with a session',
    async (wrong) => {
      const answered = await ask({ path: '/', headers: { cookie, host: wrong } })
      expect(answered.status).toBe(421)
      expect(answered.body.toString()).not.toContain('<html>')
    },
  )

  test.each(['https://elsewhere.example', 'null', 'http://127.0.0.1:1', 'http://localhost'])(
    'a call from the origin %s is refused, even with a session',
    async (foreign) => {
      const answered = await call('workshop:status', {}, { origin: foreign })
      expect(answered.status).toBe(403)
      expect(codeOf(answered)).toBe('door/foreign-origin')
    },
  )

  test('a call that names no origin is refused', async () => {
    const answered = await ask({
      method: 'POST',
      path: '/call/workshop:status',
      headers: { ...json, cookie },
      body: '{}',
    })
    expect(answered.status).toBe(403)
  })

  test.each(['cross-site', 'same-site'])('what a browser marks as %s is refused', async (site) => {
    for (const path of ['/', '/sound/hum-1', '/jobs']) {
      expect((await ask({ path, headers: { cookie, 'sec-fetch-site': site } })).status).toBe(403)
    }
  })

  test('no answer allows another origin to read it', async () => {
    const answered = await ask({
      method: 'OPTIONS',
      path: '/call/scan',
      headers: { cookie, origin: 'https://elsewhere.example', 'access-control-request-method': 'POST' },
    })
    expect(answered.status).toBe(403)
    expect(Object.keys(answered.headers).filter((name) => name.startsWith('access-control'))).toEqual([])
  })

  test('it listens on the loopback address alone', async () => {
    expect(new URL(door.url).hostname).toBe('127.0.0.1')
    const others = Object.values(networkInterfaces()).flatMap((list) => list ?? [])
    for (const { address, family } of others) {
      if (family !== 'IPv4' || address.startsWith('127.')) continue
      const refused = await new Promise((resolve) => {
        const socket = connect({ host: address, port: Number(new URL(door.url).port) })
        socket.on('connect', () => resolve(socket.destroy() && false))
        socket.on('error', () => resolve(true))
      })
      expect(refused, address).toBe(true)
    }
  })
})

describe('what is served', () => {
  test('the page carries a fresh nonce in its policy and in itself, and allows no inline script', async () => {
    const pages = await Promise.all([1, 2].map(() => ask({ path: '/', headers: { cookie } })))
    const nonces = pages.map((page) => {
      const policy = String(page.headers['content-security-policy'])
      expect(policy).toContain("default-src 'none'")
      expect(policy).toContain("script-src 'self';")
      expect(policy).not.toContain('unsafe')
      expect(page.headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'x-frame-options': 'DENY',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
        'cache-control': 'no-store',
      })
      const [, nonce = ''] = /'nonce-([^']+)'/.exec(policy) ?? []
      expect(page.body.toString()).toContain(`nonce="${nonce}"`)
      return nonce
    })
    expect(new Set(nonces).size).toBe(2)
  })

  test('a file of the bundle comes with its type', async () => {
    const answered = await ask({ path: '/assets/window.js', headers: { cookie } })
    expect(answered.headers['content-type']).toBe('text/javascript; charset=utf-8')
    expect(answered.body.toString()).toBe('export {}')
  })

  test.each([
    '/../secret.js',
    '/assets/../../secret.js',
    '/%2e%2e/secret.js',
    '/..%2fsecret.js',
    '/assets/..%5c..%5csecret.js',
    '/assets/%252e%252e/secret.js',
    '//secret.js',
    '/assets/window.js.map',
    '/assets/window.js%00.css',
    '/assets',
    '/etc/passwd',
    '/%',
    '/sound/../assets/window.js',
    '/sound/..%2f..%2fsecret.js',
    '/sound/%2fetc%2fpasswd',
  ])('%s reaches nothing outside the bundle', async (path) => {
    const answered = await ask({ path, headers: { cookie } })
    expect(answered.status).toBeGreaterThanOrEqual(400)
    expect(answered.status).toBeLessThan(500)
    expect(answered.body.toString()).not.toContain('secret beside')
    expect(answered.body.toString()).not.toContain('root:')
  })

  test('a sound comes by its id, whole or in the range that was asked for', async () => {
    const whole = await ask({ path: '/sound/hum-1', headers: { cookie } })
    expect(whole.status).toBe(200)
    expect(whole.body.equals(SOUND)).toBe(true)
    const part = await ask({ path: '/sound/hum-1', headers: { cookie, range: 'bytes=100-199' } })
    expect(part.status).toBe(206)
    expect(part.headers['content-range']).toBe('bytes 100-199/1000')
    expect(part.body.equals(SOUND.slice(100, 200))).toBe(true)
    const beyond = await ask({ path: '/sound/hum-1', headers: { cookie, range: 'bytes=1000-' } })
    expect(beyond.status).toBe(416)
  })

  test('what was prepared of it for a board is served beside its original', async () => {
    const prepared = await ask({ path: '/sound/hum-1?prepared-for=bench-44', headers: { cookie } })
    expect(prepared.body.equals(PREPARED)).toBe(true)
    const other = await ask({ path: '/sound/hum-1?prepared-for=no-such', headers: { cookie } })
    expect(other.status).toBe(404)
    const twice = '/sound/hum-1?prepared-for=bench-44&prepared-for=no-such'
    expect((await ask({ path: twice, headers: { cookie } })).status).toBe(200)
  })
})

describe('calls', () => {
  test('a call is answered with the value of the core', async () => {
    const answered = await call('workshop:status', {})
    expect(JSON.parse(answered.body.toString())).toEqual({ ok: true, value: STATUS })
  })

  test('an oversized body is cut off', async () => {
    const answered = await call('scan', { paths: ['x'.repeat(5_000_000)] })
    expect(answered.status).toBe(413)
    expect(codeOf(answered)).toBe('door/413')
  })

  test.each([
    { name: 'text', headers: { 'content-type': 'text/plain' }, status: 415 },
    { name: 'a form', headers: { 'content-type': 'application/x-www-form-urlencoded' }, status: 415 },
    { name: 'no type', headers: { 'content-type': '' }, status: 415 },
  ])('$name is not read as a request', async ({ headers, status }) => {
    expect((await call('workshop:status', {}, headers)).status).toBe(status)
  })

  test.each(['PUT', 'DELETE', 'PATCH'])('%s is no way to call', async (method) => {
    const answered = await ask({
      method,
      path: '/call/workshop:status',
      headers: { cookie, origin },
    })
    expect(answered.status).toBe(404)
  })

  test('a call by GET is not a call', async () => {
    expect((await ask({ path: '/call/workshop:status', headers: { cookie } })).status).toBe(404)
  })

  test('what is no JSON is refused in words, and is no fault of ours', async () => {
    const headers = { ...json, cookie, origin }
    const answered = await ask({ method: 'POST', path: '/call/scan', headers, body: '{"paths":' })
    expect(answered.status).toBe(400)
    expect(onFault).not.toHaveBeenCalled()
  })

  test('a prototype cannot be slipped in', async () => {
    const headers = { ...json, cookie, origin }
    const body = '{"__proto__":{"paths":["/"]}}'
    expect((await ask({ method: 'POST', path: '/call/scan', headers, body })).status).toBe(400)
  })

  test('a bug crosses without its inner words', async () => {
    const answered = await call('builds:list', {})
    expect(codeOf(answered)).toBe('internal')
    expect(answered.body.toString()).not.toContain('inner detail')
    expect(onFault).toHaveBeenCalledTimes(1)
    onFault.mockClear()
  })

  test('a long call tells its progress and end on the stream of jobs', async () => {
    const { hostname, port } = new URL(door.url)
    const jobs: Job[] = []
    const ended = new Promise<void>((resolve, reject) => {
      const sent = httpRequest({ hostname, port, path: '/jobs', headers: { cookie } }, (response) => {
        expect(response.headers['content-type']).toBe('text/event-stream')
        let text = ''
        response.on('data', (chunk: Buffer) => {
          text += chunk.toString()
          if (text === ': open\n\n') void call('scan', { paths: ['/fonts'] })
          jobs.length = 0
          for (const [, data = ''] of text.matchAll(/^data: (.*)$/gm)) jobs.push(JSON.parse(data) as Job)
          if (jobs.at(-1)?.state === 'done') resolve(void sent.destroy())
        })
      })
      sent.on('error', reject)
      sent.end()
    })
    await ended
    expect(jobs.at(0)?.state).toBe('running')
    expect(jobs.at(-1)?.value).toEqual(SCANNED)
  })

  test('a change by another process is told on the stream, and nobody listens when it is closed', async () => {
    const { hostname, port } = new URL(door.url)
    await vi.waitFor(() => expect(changeListeners.size).toBe(0))
    await new Promise<void>((resolve, reject) => {
      const sent = httpRequest({ hostname, port, path: '/jobs', headers: { cookie } }, (response) => {
        let text = ''
        response.on('data', (chunk: Buffer) => {
          text += chunk.toString()
          if (text === ': open\n\n') for (const tell of changeListeners) tell()
          if (text.endsWith('event: changed\ndata:\n\n')) resolve(void sent.destroy())
        })
      })
      sent.on('error', reject)
      sent.end()
    })
    await vi.waitFor(() => expect(changeListeners.size).toBe(0))
  })
})
