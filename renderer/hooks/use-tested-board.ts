import { useEffect, useState } from 'react'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { Loaded } from './loaded.ts'
import { useAsk } from './use-ask.ts'

/** A pause in the typing, after which the text is read. */
const PAUSE_MS = 250

/** What is wrong with a board's text as it is being typed, and the board it makes where nothing is. */
export function useTestedBoard(text: string): Loaded<ResponseOf<'boards:test'>> {
  const [rested, setRested] = useState(text)
  useEffect(() => {
    const timer = setTimeout(() => setRested(text), PAUSE_MS)
    return () => clearTimeout(timer)
  }, [text])
  return useAsk('boards:test', { text: rested })
}
