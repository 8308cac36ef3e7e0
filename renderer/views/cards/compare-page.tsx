import { Select } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { momentInWords } from '../../elements/in-words.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { CardsPlaces } from './cards-places.tsx'
import { ContentsDifference } from './contents-difference.tsx'

type Content = ResponseOf<'contents:list'>['contents'][number]

/** Two contents side by side: what is on one only, what moved, what changed. */
export function ComparePage({ fingerprint = null }: { readonly fingerprint?: string | null }) {
  const contents = useAsk('contents:list', {})
  return (
    <div className="page-stack">
      <CardsPlaces />
      <PageHead title="Compare two contents" about="What is on one only, what moved, what changed" />
      <WhenLoaded loaded={contents} what="cards">
        {({ contents: rows }) =>
          rows.length < 2 ? (
            <p className="quiet">There are two to compare once two cards have been made.</p>
          ) : (
            <Comparison contents={rows} first={fingerprint} />
          )
        }
      </WhenLoaded>
    </div>
  )
}

interface ComparisonProps {
  /** Newest first. */
  readonly contents: readonly Content[]
  readonly first: string | null
}

function Comparison({ contents, first }: ComparisonProps) {
  const [a, setA] = useState(first ?? contents[0]?.fingerprint ?? null)
  const [b, setB] = useState(() => otherThan(contents, first ?? contents[0]?.fingerprint ?? null))
  const diff = useAsk('contents:diff', a === null || b === null ? null : { a, b })
  const data = contents.map((content) => ({
    value: content.fingerprint,
    label: [
      content.fingerprint,
      momentInWords(content.createdAt),
      content.builds.join(', ') || content.fonts.slice(0, 3).join(', '),
    ].join(' · '),
  }))
  return (
    <section className="sheet sheet-stack" aria-label="Comparison">
      <div className="form">
        <Select label="One" data={data} value={a} onChange={setA} searchable allowDeselect={false} />
        <Select label="The other" data={data} value={b} onChange={setB} searchable allowDeselect={false} />
      </div>
      {a !== null && b !== null && (
        <WhenLoaded loaded={diff} what="the comparison">
          {(value) => <ContentsDifference diff={value} />}
        </WhenLoaded>
      )}
    </section>
  )
}

/** The next older one, which is what a card is mostly compared with; of the same build where there is one. */
function otherThan(contents: readonly Content[], fingerprint: string | null): string | null {
  const at = contents.findIndex((content) => content.fingerprint === fingerprint)
  const own = contents[at]
  const older = contents.slice(at + 1)
  const likely =
    older.find(({ builds }) => builds.some((code) => own?.builds.includes(code) === true)) ??
    older[0] ??
    contents.find((content) => content.fingerprint !== fingerprint)
  return likely?.fingerprint ?? null
}
