import { useEffect, type ReactNode } from 'react'

interface PageHeadProps {
  readonly title: string
  /** One line under the title. */
  readonly about?: ReactNode
  /** What can be done here. */
  readonly children?: ReactNode
}

/** The head of a page: its title, which is also the window's, and its acts. */
export function PageHead({ title, about, children }: PageHeadProps) {
  useEffect(() => {
    document.title = `${title} · Cardwright`
  }, [title])
  return (
    <header className="page-head">
      <div className="page-head-words">
        <h1>{title}</h1>
        {about !== undefined && <div className="quiet">{about}</div>}
      </div>
      {children !== undefined && <div className="row">{children}</div>}
    </header>
  )
}
