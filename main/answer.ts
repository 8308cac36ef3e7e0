import { randomUUID } from 'node:crypto'
import type { z } from 'zod'
import { calls, type CallName, type RequestOf } from '../app/contract/calls.ts'
import { checkRequest } from '../app/contract/check-request.ts'
import type { Core } from '../app/contract/core.ts'
import {
  CHANNELS,
  doorCalls,
  type Answer,
  type AskRequest,
  type AskResponse,
  type Channel,
  type DoorCallName,
  type Job,
  type Started,
} from '../app/contract/door.ts'
import { AppError, toReport } from '../app/errors/app-error.ts'
import { issueSentence } from '../app/errors/issue-in-words.ts'
import type { RunControl } from '../app/ports/progress.ts'
import { openJobs } from './jobs.ts'

/** What a door can do besides the core: each door brings its own. */
export interface DoorAbilities {
  readonly about: AskResponse<'door:about'>
  choosePath(request: AskRequest<'door:choose-path'>): Promise<string | null>
  listFolder(request: AskRequest<'door:list-folder'>): Promise<AskResponse<'door:list-folder'>>
}

/** Calls back when another process has changed something. Returns how to stop. */
export type OnForeignChange = (listener: () => void) => () => void

export interface AnswersOptions {
  readonly abilities: DoorAbilities
  /** Missing where nobody else can change anything. */
  readonly onForeignChange?: OnForeignChange
  /** Told of every fault of our own, before its report goes out. */
  readonly onFault: (thrown: unknown) => void
  /** Milliseconds of a steady clock. */
  readonly nowMs?: () => number
  readonly newJobId?: () => string
}

/** Everything a door does with a request. The doors themselves only carry. */
export interface Answers {
  /** Never throws. A long call is answered at once with its job's id. */
  send(channel: unknown, request: unknown): Promise<Answer>
  /** Tells every change of every job. @returns a function that stops it. */
  onJob(listener: (job: Job) => void): () => void
  /** Tells that another process changed the workshop. @returns a function that stops it. */
  readonly onForeignChange: OnForeignChange
  /** Cancels what runs and waits for its end. */
  close(): Promise<void>
}

/** Requests parsed by the contract, run, and their responses held to it: the same for every door. */
export function openAnswers(core: Core, options: AnswersOptions): Answers {
  const { abilities, onFault } = options
  const jobs = openJobs({
    nowMs: options.nowMs ?? (() => performance.now()),
    newJobId: options.newJobId ?? randomUUID,
  })

  async function answered(work: () => Promise<unknown>): Promise<Answer> {
    try {
      return { ok: true, value: await work() }
    } catch (thrown) {
      if (!(thrown instanceof AppError)) onFault(thrown)
      return { ok: false, error: toReport(thrown) }
    }
  }

  /** A response that misses its schema is a bug of ours, and must not reach a window as data. */
  async function run(call: CallName, request: unknown, control: RunControl): Promise<unknown> {
    const act = core[call] as (request: unknown, control: RunControl) => Promise<unknown>
    return heldTo(calls[call].response, await act(request, control), call)
  }

  const doorHandlers: {
    readonly [C in DoorCallName]: (request: AskRequest<C>) => Promise<AskResponse<C>>
  } = {
    'door:about': () => Promise.resolve(abilities.about),
    'door:choose-path': async (request) => ({ path: await abilities.choosePath(request) }),
    'door:list-folder': (request) => abilities.listFolder(request),
    'jobs:list': () => Promise.resolve({ jobs: jobs.list() }),
    'jobs:cancel': ({ jobId }) => Promise.resolve({ wasRunning: jobs.cancel(jobId) }),
    'jobs:dismiss': ({ jobId }) => {
      jobs.dismiss(jobId)
      return Promise.resolve({})
    },
  }

  return {
    send: (channel, request) =>
      answered(async () => {
        if (!isChannel(channel)) throw unknownChannel()
        if (isDoorCall(channel)) {
          const parsed = parsedRequest(channel, request)
          const handler = doorHandlers[channel] as (request: unknown) => Promise<unknown>
          return heldTo(doorCalls[channel].response, await handler(parsed), channel)
        }
        const parsed = checkRequest(channel, request)
        if (!calls[channel].long) return run(channel, parsed, NOTHING_TO_CONTROL)
        const jobId = jobs.start(channel, aboutOf(channel, parsed), (control) =>
          answered(() => run(channel, parsed, control)),
        )
        return { jobId } satisfies Started
      }),
    onJob: (listener) => jobs.onJob(listener),
    onForeignChange: options.onForeignChange ?? (() => () => undefined),
    close: () => jobs.close(),
  }
}

const NOTHING_TO_CONTROL: RunControl = {
  onProgress: () => undefined,
  cancel: { aborted: false, addEventListener: () => undefined, removeEventListener: () => undefined },
}

function isChannel(channel: unknown): channel is Channel {
  return (CHANNELS as readonly unknown[]).includes(channel)
}

function isDoorCall(channel: Channel): channel is DoorCallName {
  return Object.hasOwn(doorCalls, channel)
}

function unknownChannel(): AppError {
  return new AppError({
    code: 'request/unknown',
    what: 'There is no such call.',
    where: '',
    mend: 'Reload the window; it may be of another version.',
  })
}

function parsedRequest(call: DoorCallName, request: unknown): unknown {
  const schema: z.ZodType = doorCalls[call].request
  const result = schema.safeParse(request)
  if (result.success) return result.data
  throw new AppError({
    code: 'request/unfit',
    what: issueSentence(result.error.issues[0]),
    where: call,
    mend: 'Correct this value and try again.',
  })
}

function heldTo(schema: z.ZodType, value: unknown, channel: Channel): unknown {
  const result = schema.safeParse(value)
  if (result.success) return result.data
  throw new TypeError(`The answer to ${channel} does not fit the contract: ${result.error.message}`)
}

/** What a long call is about, for the list of jobs. Never a password. */
function aboutOf(call: CallName, request: RequestOf<CallName>): string {
  const asked = request as {
    paths?: readonly string[]
    target?: string
    imagePath?: string
    into?: string
    from?: string
    boardId?: string
    reportPath?: string
    buildCode?: string
    editionIds?: readonly string[]
    dryRun?: boolean
  }
  if (call === 'scan') return (asked.paths ?? []).join(', ')
  if (call === 'boards:learn') return asked.boardId ?? ''
  if (call === 'prepare') {
    const count = asked.editionIds?.length ?? 0
    const fonts = asked.buildCode ?? (count === 1 ? '1 font' : `${count} fonts`)
    return asked.dryRun === true ? `${fonts}, dry run` : fonts
  }
  return (
    asked.imagePath ?? asked.into ?? asked.target ?? asked.from ?? asked.reportPath ?? asked.buildCode ?? ''
  )
}
