import { TextInput } from '@mantine/core'
import type { ReactNode } from 'react'
import { Icon } from './icon.tsx'
import { counted } from './in-words.ts'

interface SearchFieldProps {
  /** What is searched, one of it: `font` */
  readonly noun: string
  /** By what it is found: `Name, creator or folder` */
  readonly by: string
  readonly search: string
  readonly onSearch: (search: string) => void
  readonly shownCount: number
  readonly count: number
  /** Other ways to see less of the list, between the field and the count. */
  readonly children?: ReactNode
}

/** Over a list: a search in it, and how much of it is shown. */
export function SearchField(props: SearchFieldProps) {
  const { noun, by, search, onSearch, shownCount, count, children } = props
  return (
    <div className="row">
      <TextInput
        aria-label={`Search ${noun}s`}
        placeholder={by}
        leftSection={<Icon name="search" />}
        value={search}
        onChange={(event) => onSearch(event.currentTarget.value)}
        flex="1 1 16rem"
        maw="26rem"
      />
      {children}
      <span className={shownCount === count ? 'only-heard' : 'quiet number'} role="status">
        {shownCount.toLocaleString('en')} of {counted(count, noun)}
        <span className="only-heard"> shown</span>
      </span>
    </div>
  )
}
