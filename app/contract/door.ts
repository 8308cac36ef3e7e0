import { z } from 'zod'
import { calls, CALL_NAMES, type CallName, type RequestOf, type ResponseOf } from './calls.ts'
import { told } from './shapes.ts'

/** How far a long call has come, with the time left as the door reckons it. */
const jobProgress = z.strictObject({
  phase: z.string(),
  done: z.number(),
  total: z.number().nullable(),
  unit: z.enum(['files', 'bytes', 'fonts']),
  current: z.string().nullable(),
  /** Null while it would be a guess. */
  secondsLeft: z.int().nullable(),
})

export const errorReport = told.extend({
  kind: z.enum(['unmet', 'input', 'machine']).optional(),
})

/** A long call while it runs, and for a while after it ended. */
export const job = z.strictObject({
  jobId: z.string(),
  call: z.enum(CALL_NAMES),
  /** What it is about, in the words of whoever started it: a path, a build's code. */
  about: z.string(),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  progress: jobProgress.nullable(),
  /** The call's response once `done`; fits the response of `call`. */
  value: z.unknown(),
  error: errorReport.nullable(),
})
export type Job = z.output<typeof job>
export type JobProgress = z.output<typeof jobProgress>

/** What is looked for: a folder, a file that is there, or a name for one that is not. */
const pathKind = z.enum(['folder', 'archive', 'image-to-read', 'image-to-write'])
const namedPath = z.strictObject({ name: z.string(), path: z.string() })

/**
 * What a door answers by itself: what it can do, long calls that were started, and the dialogs of
 * the operating system where it has them.
 */
export const doorCalls = {
  'door:about': {
    request: z.strictObject({}),
    response: z.strictObject({
      door: z.enum(['desktop', 'loopback']),
      /** Whether `door:choose-path` opens a dialog; elsewhere the window has its own, by `door:list-folder`. */
      choosesPaths: z.boolean(),
      playsSounds: z.boolean(),
    }),
  },
  'door:choose-path': {
    request: z.strictObject({
      kind: pathKind,
      suggested: z.string().max(32_768).optional(),
    }),
    /** Null where the user chose none. */
    response: z.strictObject({ path: z.string().nullable() }),
  },
  /** What is in a folder of this computer, to choose from: a browser's own dialog tells no paths. */
  'door:list-folder': {
    /** @property path null for where one begins */
    request: z.strictObject({ path: z.string().min(1).max(32_768).nullable(), kind: pathKind }),
    response: z.strictObject({
      path: z.string(),
      /** Null for the root. */
      parent: z.string().nullable(),
      /** Where one may go from everywhere. */
      places: z.array(namedPath).readonly(),
      folders: z.array(namedPath).readonly(),
      /** Those that may be chosen; none where a folder is looked for. */
      files: z.array(namedPath).readonly(),
      /** Whether there are more than are told. */
      isCut: z.boolean(),
    }),
  },
  'jobs:list': {
    request: z.strictObject({}),
    response: z.strictObject({ jobs: z.array(job).readonly() }),
  },
  'jobs:cancel': {
    request: z.strictObject({ jobId: z.string().max(100) }),
    response: z.strictObject({ wasRunning: z.boolean() }),
  },
  /** Takes an ended job off the list. */
  'jobs:dismiss': {
    request: z.strictObject({ jobId: z.string().max(100) }),
    response: z.strictObject({}),
  },
} satisfies Record<string, { request: z.ZodType; response: z.ZodType }>

export type DoorCalls = typeof doorCalls
export type DoorCallName = keyof DoorCalls

/** What `send` of a long call returns at once; its outcome comes as events of its job. */
export interface Started {
  readonly jobId: string
}

export type LongCallName = {
  [C in CallName]: (typeof calls)[C]['long'] extends true ? C : never
}[CallName]
export type ShortCallName = Exclude<CallName, LongCallName>

export function isLongCall(call: string): call is LongCallName {
  return (calls as Readonly<Record<string, { readonly long: boolean } | undefined>>)[call]?.long === true
}

/** Every name a window may send; the desktop's preload and both doors know no others. */
export type Channel = CallName | DoorCallName
export const CHANNELS: readonly Channel[] = [...CALL_NAMES, ...(Object.keys(doorCalls) as DoorCallName[])]

/** Calls whose answer comes with the reply itself. */
export type AskName = ShortCallName | DoorCallName
export type AskRequest<C extends AskName> = C extends ShortCallName
  ? RequestOf<C>
  : C extends DoorCallName
    ? z.input<DoorCalls[C]['request']>
    : never
export type AskResponse<C extends AskName> = C extends ShortCallName
  ? ResponseOf<C>
  : C extends DoorCallName
    ? z.output<DoorCalls[C]['response']>
    : never

/** What crosses a door for every request; nothing is thrown across. */
export type Answer<T = unknown> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: z.output<typeof errorReport> }

/** Where the desktop's main process tells the window of jobs. */
export const JOB_CHANNEL = 'job'

/**
 * Where a door tells the window that another process changed the workshop: a channel of the desktop,
 * an event of the loopback's stream. It says nothing more: what stands on the screen is asked for again.
 */
export const CHANGED_CHANNEL = 'changed'
