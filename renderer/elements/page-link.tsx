import { Button } from '@mantine/core'
import type { ReactNode } from 'react'
import { Link } from 'wouter'

interface PageLinkProps {
  readonly to: string
  readonly children: ReactNode
  readonly isMain?: boolean
}

/** A way to another page that looks like the buttons it stands among, and is a link. */
export function PageLink({ to, children, isMain = false }: PageLinkProps) {
  return (
    <Button component={Link} href={to} variant={isMain ? 'filled' : 'default'}>
      {children}
    </Button>
  )
}
