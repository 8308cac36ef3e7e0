import { useCallback, useLayoutEffect, useRef } from 'react'

/**
 * One and the same function throughout, which does what the one of the latest drawing does: for pieces
 * that are drawn anew only where what they are given has changed. For events, never while drawing.
 */
export function useSteady<A extends readonly unknown[]>(act: (...given: A) => void): (...given: A) => void {
  const latest = useRef(act)
  useLayoutEffect(() => {
    latest.current = act
  })
  return useCallback((...given: A) => latest.current(...given), [])
}
