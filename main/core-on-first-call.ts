import { CALL_NAMES, type CallName } from '../app/contract/calls.ts'
import type { Core } from '../app/contract/core.ts'

/**
 * A core whose calls are loaded when one of them is first asked for.
 * @param own calls that are there already
 */
export function coreOnFirstCall(own: Partial<Core>, load: () => Promise<Core>): Core {
  const later = (name: CallName) => async (request: never, control: never) =>
    (await load())[name](request, control)
  return Object.fromEntries(CALL_NAMES.map((name) => [name, own[name] ?? later(name)])) as Core
}
