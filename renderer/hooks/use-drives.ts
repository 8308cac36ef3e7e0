import { useQueryClient } from '@tanstack/react-query'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { Loaded } from './loaded.ts'
import { useAsk } from './use-ask.ts'

/** Drives that a card may be in, and a way to look again, at them and at the chosen one, after one was put in. */
export function useDrives(): {
  readonly loaded: Loaded<ResponseOf<'drives:list'>>
  lookAgain(): void
} {
  const client = useQueryClient()
  return {
    loaded: useAsk('drives:list', {}),
    lookAgain() {
      void client.invalidateQueries({ queryKey: ['drives:list'] })
      void client.invalidateQueries({ queryKey: ['targets:judge'] })
    },
  }
}
