import type { ReactNode } from 'react'
import { Icon, type IconName } from './icon.tsx'

interface NoteProps {
  readonly tone: 'good' | 'care' | 'bad' | 'unknown'
  readonly title: string
  readonly children?: ReactNode
  /** Spoken at once where it tells that something failed, politely where it tells an outcome. */
  readonly role?: 'alert' | 'status'
}

const ICONS: Readonly<Record<NoteProps['tone'], IconName>> = {
  good: 'ready',
  care: 'warning',
  bad: 'error',
  unknown: 'note',
}

/** A few sentences that must not be missed. */
export function Note({ tone, title, children, role }: NoteProps) {
  return (
    <div className={`note tone-${tone}`} role={role}>
      <Icon name={ICONS[tone]} />
      <div>
        <strong>{title}</strong>
        {children}
      </div>
    </div>
  )
}
