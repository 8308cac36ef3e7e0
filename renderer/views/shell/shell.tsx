import { useEffect, useRef } from 'react'
import { useLocation } from 'wouter'
import { Pages } from './pages.tsx'
import { Rail } from './rail.tsx'
import { TopBar } from './top-bar.tsx'
import { Tray } from './tray.tsx'

/** The window: the rail, the bar above, one page, and the tray of running jobs. */
export function Shell() {
  const page = useRef<HTMLElement>(null)
  const [location] = useLocation()
  const shown = useRef(location)

  // A new page begins at its top, and is where the keyboard goes on.
  useEffect(() => {
    if (shown.current === location) return
    shown.current = location
    page.current?.scrollTo(0, 0)
    page.current?.focus({ preventScroll: true })
  }, [location])

  return (
    <div className="shell">
      <button type="button" className="skip" onClick={() => page.current?.focus()}>
        Skip to the page
      </button>
      <Rail />
      <TopBar />
      <main className="page" ref={page} tabIndex={-1}>
        <Pages />
      </main>
      <Tray />
    </div>
  )
}
