import { useEffect, useRef, type RefObject } from 'react'
import { useLocation } from 'wouter'

/** How a page was left. */
interface LeftPage {
  readonly scrolledTo: number
  /** Address of the link that had the focus, which mostly is the one that led away. */
  readonly link: string | null
}

/** For so long a page that comes back may still be fetching what makes it as high as it was. */
const MOST_WAIT_MS = 1500

/**
 * Begins every page at its top, and hands it the keyboard; on the way back a page stands where it was
 * left, with the focus on the link that led away.
 * @param page what scrolls
 */
export function usePageMemory(page: RefObject<HTMLElement | null>): void {
  const [location] = useLocation()
  const shown = useRef(location)
  const left = useRef(new Map<string, LeftPage>())
  /** The place that Back or Forward have just led to. */
  const wayBackTo = useRef('')

  useEffect(() => {
    const element = page.current
    if (element === null) return undefined
    const onWayBack = () => void (wayBackTo.current = window.location.hash)
    const keep = () =>
      left.current.set(shown.current, {
        scrolledTo: element.scrollTop,
        link: document.activeElement?.getAttribute('href') ?? null,
      })
    addEventListener('popstate', onWayBack)
    element.addEventListener('scroll', keep)
    element.addEventListener('focusin', keep)
    return () => {
      removeEventListener('popstate', onWayBack)
      element.removeEventListener('scroll', keep)
      element.removeEventListener('focusin', keep)
    }
  }, [page])

  useEffect(() => {
    const element = page.current
    if (element === null || shown.current === location) return undefined
    shown.current = location
    const wanted = wayBackTo.current === `#${location}` ? left.current.get(location) : undefined
    wayBackTo.current = ''
    element.scrollTo(0, 0)
    element.focus({ preventScroll: true })
    return wanted === undefined ? undefined : stoodAsLeft(element, wanted)
  }, [page, location])
}

/** Brings a page back to how it was left, as soon as it is high enough. @returns a function that gives up */
function stoodAsLeft(page: HTMLElement, { scrolledTo, link }: LeftPage): () => void {
  const ends = new AbortController()
  const stop = () => ends.abort()
  const growth = new MutationObserver(tryOnce)
  const timer = setTimeout(stop, MOST_WAIT_MS)
  ends.signal.addEventListener('abort', () => {
    growth.disconnect()
    clearTimeout(timer)
  })
  // Whoever has begun to read or to type is not pulled away.
  for (const event of ['wheel', 'pointerdown', 'keydown'])
    page.addEventListener(event, stop, { signal: ends.signal })
  growth.observe(page, { childList: true, subtree: true })
  tryOnce()
  return stop

  function tryOnce(): void {
    page.scrollTo(0, scrolledTo)
    if (Math.abs(page.scrollTop - scrolledTo) > 1) return
    const led = link === null ? null : page.querySelector<HTMLElement>(`a[href="${CSS.escape(link)}"]`)
    if (link !== null && led === null) return
    led?.focus({ preventScroll: true })
    stop()
  }
}
