import { useRef } from 'react'
import { usePageMemory } from '../../hooks/use-page-memory.ts'
import { Pages } from './pages.tsx'
import { Rail } from './rail.tsx'
import { TopBar } from './top-bar.tsx'
import { Tray } from './tray.tsx'

/** The window: the rail, the bar above, one page, and the tray of running jobs. */
export function Shell() {
  const page = useRef<HTMLElement>(null)
  usePageMemory(page)

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
