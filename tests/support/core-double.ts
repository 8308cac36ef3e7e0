import { CALL_NAMES, type CallName } from '../../app/contract/calls.ts'
import type { Core } from '../../app/contract/core.ts'

/** A core that answers the given calls; any other is a fault, so that no test leans on one by chance. */
export function coreDouble(answers: Partial<Core>): Core {
  const refuses = (call: CallName) => () => Promise.reject(new TypeError(`nobody told how to answer ${call}`))
  return Object.fromEntries(CALL_NAMES.map((call) => [call, answers[call] ?? refuses(call)])) as Core
}

export const STATUS = {
  path: '/bench/workshop',
  version: '0.1.0',
  who: 'Ida',
  isDemo: false,
  fontCount: 2,
  soundCount: 40,
  defaultBoardId: 'bench-44',
  imagesFolder: '/bench/workshop/images',
  speakerLowLimitHz: null,
}

export const SCANNED = { roots: [], seconds: 1 }
