import type { ReactNode } from 'react'
import type { Loaded } from '../hooks/loaded.ts'
import { ErrorNote } from './error-note.tsx'

interface WhenLoadedProps<T> {
  readonly loaded: Loaded<T>
  /** What is waited for: `fonts`. */
  readonly what: string
  readonly children: (value: T) => ReactNode
}

/** Draws what was asked for, or that it is waited for, or why it cannot be had. */
export function WhenLoaded<T>({ loaded, what, children }: WhenLoadedProps<T>) {
  if (loaded.state === 'waiting') return <p className="quiet">Fetching {what} …</p>
  if (loaded.state === 'failed') return <ErrorNote error={loaded.error} again={loaded.again} />
  return children(loaded.value)
}
