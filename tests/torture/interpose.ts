import fs, { promises } from 'node:fs'
import { createRequire, syncBuiltinESMExports } from 'node:module'
import { getEnvironmentData, isMainThread, setEnvironmentData } from 'node:worker_threads'

// Loaded with `--import` before the program itself: counts what the process asks of the disk, in all of its
// threads, and ends it with SIGKILL, or lets one step fail, where it was told to. Until then every byte
// goes where the program sends it: half of a write is half a write on the disk.

/** What is to happen, and at which step; all in the environment variable `CARDWRIGHT_TORTURE`, as JSON. */
export interface Arming {
  readonly killAtStep?: number
  readonly killAtByte?: number
  readonly failAtStep?: number
  /** Of the operating system: `ENOSPC`, `EIO` ... */
  readonly failWith?: string
  /** ISO 8601: the clock stands still there, so that runs can be compared byte for byte. */
  readonly now?: string
  /** Steps and bytes are written there at the end. */
  readonly countInto?: string
}

const SLOTS = { steps: 0, bytes: 1, killAtStep: 2, killAtByte: 3, failAtStep: 4, tidiedUp: 5 } as const
/** Steps of tidying up: where one fails, something must be left, and nothing else may come of it. */
const TIDYING: readonly string[] = ['rm', 'rmSync', 'unlink', 'unlinkSync']
const KEY = 'cardwright-torture'

const arming = JSON.parse(process.env['CARDWRIGHT_TORTURE'] ?? '{}') as Arming
if (isMainThread) setEnvironmentData(KEY, new SharedArrayBuffer(4 * Object.keys(SLOTS).length))
const shared = new Int32Array(getEnvironmentData(KEY) as unknown as SharedArrayBuffer)
if (isMainThread) arm(arming)

/** Begins to count anew. */
export function arm({ killAtStep = 0, killAtByte = 0, failAtStep = 0 }: Arming): void {
  Atomics.store(shared, SLOTS.steps, 0)
  Atomics.store(shared, SLOTS.bytes, 0)
  Atomics.store(shared, SLOTS.killAtStep, killAtStep)
  Atomics.store(shared, SLOTS.killAtByte, killAtByte)
  Atomics.store(shared, SLOTS.failAtStep, failAtStep)
  Atomics.store(shared, SLOTS.tidiedUp, 0)
}

/** Whether the step that failed was one of tidying up. */
export function failedWhileTidying(): boolean {
  return Atomics.load(shared, SLOTS.tidiedUp) === 1
}

export function stepsSoFar(): number {
  return Atomics.load(shared, SLOTS.steps)
}

function die(): never {
  process.kill(process.pid, 'SIGKILL')
  // The signal is on its way; nothing more may reach the disk.
  for (;;) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0)
}

function failure(name: string): Error {
  if (TIDYING.includes(name)) Atomics.store(shared, SLOTS.tidiedUp, 1)
  const code = arming.failWith ?? 'EIO'
  return Object.assign(new Error(`${code}: let fail on purpose, ${name}`), { code, syscall: name })
}

/** @returns what is to happen after the step */
function beginStep(name: string): { readonly diesAfter: boolean } {
  const number = Atomics.add(shared, SLOTS.steps, 1) + 1
  if (number === Atomics.load(shared, SLOTS.failAtStep)) throw failure(name)
  const kills = number === Atomics.load(shared, SLOTS.killAtStep)
  // Odd steps are died of before they are done, even ones after.
  if (kills && number % 2 === 1) die()
  return { diesAfter: kills }
}

/** @returns how many of the bytes are still written before the process dies; null where it lives on */
function countBytes(length: number): number | null {
  const before = Atomics.add(shared, SLOTS.bytes, length)
  const killAt = Atomics.load(shared, SLOTS.killAtByte)
  return killAt > before && killAt <= before + length ? killAt - before : null
}

type AnyFunction = (...args: never[]) => unknown
type Owner = Record<string, AnyFunction>

function wrapSync(owner: Owner, name: string, counts: (args: readonly unknown[]) => boolean = () => true) {
  const real = owner[name] as (...args: unknown[]) => unknown
  owner[name] = function (this: unknown, ...args: unknown[]) {
    if (!counts(args)) return real.apply(this, args)
    const { diesAfter } = beginStep(name)
    const result = real.apply(this, args)
    if (diesAfter) die()
    return result
  } as AnyFunction
}

function wrapAsync(owner: Owner, name: string, counts: (args: readonly unknown[]) => boolean = () => true) {
  const real = owner[name] as (...args: unknown[]) => Promise<unknown>
  owner[name] = async function (this: unknown, ...args: unknown[]) {
    if (!counts(args)) return real.apply(this, args)
    const { diesAfter } = beginStep(name)
    const result = await real.apply(this, args)
    if (diesAfter) die()
    return result
  } as AnyFunction
}

/** Of a write's arguments: the bytes that it would write. */
function lengthOf([data, offset, length]: readonly unknown[]): number {
  if (typeof data === 'string') return Buffer.byteLength(data)
  const { byteLength } = data as Uint8Array
  if (typeof length === 'number') return length
  return byteLength - (typeof offset === 'number' ? offset : 0)
}

/** The same write, of fewer bytes. */
function shortened([data, offset, length, position]: readonly unknown[], bytes: number): unknown[] {
  if (typeof data === 'string') return [Buffer.from(data).subarray(0, bytes)]
  const start = typeof offset === 'number' ? offset : 0
  return [data, start, bytes, typeof length === 'number' ? position : null]
}

function wrapWriting(): void {
  const realSync = fs.writeSync as (fd: number, ...rest: unknown[]) => number
  fs.writeSync = ((fd: number, ...rest: unknown[]) => {
    const { diesAfter } = beginStep('write')
    const last = countBytes(lengthOf(rest))
    if (last !== null) {
      realSync(fd, ...shortened(rest, last))
      die()
    }
    const written = realSync(fd, ...rest)
    if (diesAfter) die()
    return written
  }) as typeof fs.writeSync
  const realWriteFile = fs.writeFileSync
  fs.writeFileSync = ((path: fs.PathOrFileDescriptor, data: string | Uint8Array, ...rest: never[]) => {
    const { diesAfter } = beginStep('writeFile')
    const last = countBytes(lengthOf([data]))
    if (last !== null) {
      realWriteFile(path, Buffer.from(data as string).subarray(0, last))
      die()
    }
    realWriteFile(path, data, ...rest)
    if (diesAfter) die()
  }) as typeof fs.writeFileSync
}

async function wrapHandles(): Promise<void> {
  const handle = await promises.open(process.execPath, 'r')
  const prototype = Object.getPrototypeOf(handle) as Owner
  await handle.close()
  for (const name of ['sync', 'datasync', 'truncate']) wrapAsync(prototype, name)
  for (const name of ['write', 'writeFile']) {
    const real = prototype[name] as (...args: unknown[]) => Promise<unknown>
    const write = prototype['write'] as (...args: unknown[]) => Promise<unknown>
    prototype[name] = async function (this: unknown, ...args: unknown[]) {
      const { diesAfter } = beginStep(name)
      const last = countBytes(lengthOf(args))
      if (last !== null) {
        await write.apply(this, shortened(args, last))
        die()
      }
      const result = await real.apply(this, args)
      if (diesAfter) die()
      return result
    } as AnyFunction
  }
}

/** Commits are steps too: what the database does inside one is its own, and killed at chance moments. */
function wrapDatabase(): void {
  const Database = createRequire(import.meta.url)('better-sqlite3') as { prototype: Owner }
  wrapSync(Database.prototype, 'exec', ([sql]) => sql === 'COMMIT')
}

function stopTheClock(now: string): void {
  const at = Date.parse(now)
  globalThis.Date = class extends Date {
    constructor(...args: unknown[]) {
      if (args.length === 0) super(at)
      else super(...(args as [number]))
    }
    static override now(): number {
      return at
    }
  } as DateConstructor
}

const writes = (flags: unknown) => typeof flags === 'string' && flags !== 'r'
if (arming.now !== undefined) stopTheClock(arming.now)
await wrapHandles()
wrapWriting()
const sync = fs as unknown as Owner
for (const name of [
  'fsyncSync',
  'ftruncateSync',
  'renameSync',
  'linkSync',
  'unlinkSync',
  'mkdirSync',
  'rmSync',
])
  wrapSync(sync, name)
wrapSync(sync, 'openSync', ([, flags]) => writes(flags))
const asynchronous = promises as unknown as Owner
for (const name of ['rename', 'link', 'unlink', 'mkdir', 'mkdtemp', 'rm', 'writeFile'])
  wrapAsync(asynchronous, name)
wrapAsync(asynchronous, 'open', ([, flags]) => writes(flags))
wrapDatabase()
syncBuiltinESMExports()

if (isMainThread) {
  const { countInto } = arming
  const put = fs.writeFileSync
  process.on('exit', () => {
    const counted = { steps: stepsSoFar(), bytes: Atomics.load(shared, SLOTS.bytes) }
    if (countInto !== undefined) put(countInto, JSON.stringify(counted))
  })
}
