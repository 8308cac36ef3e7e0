import { Button, TextInput } from '@mantine/core'
import { useEffect, useRef, useState } from 'react'
import type { Finding } from '../../../app/model/finding.ts'
import { type Accepted, useCardDraft } from '../../hooks/use-card-draft.tsx'

interface AcceptFindingProps {
  readonly finding: Finding
  readonly accepted: readonly Accepted[]
}

/** Lets a finding pass by name, for a reason that the record of the card keeps. */
export function AcceptFinding({ finding, accepted }: AcceptFindingProps) {
  const { change } = useCardDraft()
  const [reason, setReason] = useState<string | null>(null)
  const place = useRef<HTMLDivElement>(null)
  const wasPressed = useRef(false)
  const { rule, path } = finding
  const others = accepted.filter((each) => each.rule !== rule || each.path !== path)
  const own = accepted.find((each) => each.rule === rule && each.path === path)
  const name = path === null ? rule : `${rule} of ${path}`

  // What was pressed is gone with each step: the keyboard goes on with what stands in its place.
  useEffect(() => {
    if (!wasPressed.current) return
    wasPressed.current = false
    place.current?.querySelector<HTMLElement>('input, button')?.focus()
  })

  function goOn(nextReason: string | null, nextAccepted?: readonly Accepted[]): void {
    wasPressed.current = true
    setReason(nextReason)
    if (nextAccepted !== undefined) change({ accepted: nextAccepted })
  }

  if (own !== undefined) {
    return (
      <div className="row" ref={place}>
        <span>Accepted: {own.reason}</span>
        <Button
          size="xs"
          variant="default"
          aria-label={`Take back ${name}`}
          onClick={() => goOn(null, others)}
        >
          Take back
        </Button>
      </div>
    )
  }
  if (reason === null) {
    return (
      <div ref={place}>
        <Button size="xs" variant="default" aria-label={`Accept ${name}`} onClick={() => goOn('')}>
          Accept
        </Button>
      </div>
    )
  }
  return (
    <div className="row row-end" ref={place}>
      <TextInput
        label={`Reason to accept ${name}`}
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
        flex="1 1 14rem"
      />
      <Button
        disabled={reason.trim() === ''}
        onClick={() => goOn(null, [...others, { rule, path, reason: reason.trim() }])}
      >
        Accept for this reason
      </Button>
      <Button variant="default" onClick={() => goOn(null)}>
        Leave it
      </Button>
    </div>
  )
}
