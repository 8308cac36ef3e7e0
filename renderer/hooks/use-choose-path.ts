import type { AskRequest } from '../../app/contract/door.ts'
import { ask } from '../client/client.ts'
import { valueOr } from './loaded.ts'
import { useAsk } from './use-ask.ts'

export type PathKind = AskRequest<'door:choose-path'>['kind']

/** Opens the operating system's dialog; null where this door has none, and the window has its own. */
export function useChoosePath(): ((kind: PathKind) => Promise<string | null>) | null {
  const about = valueOr(useAsk('door:about', {}), null)
  if (about?.choosesPaths !== true) return null
  return async (kind) => (await ask('door:choose-path', { kind })).path
}
