import { Button, TextInput } from '@mantine/core'
import { useState } from 'react'
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
  const { rule, path } = finding
  const others = accepted.filter((each) => each.rule !== rule || each.path !== path)
  const own = accepted.find((each) => each.rule === rule && each.path === path)
  const name = path === null ? rule : `${rule} of ${path}`

  if (own !== undefined) {
    return (
      <div className="row">
        <span>Accepted: {own.reason}</span>
        <Button size="xs" variant="default" onClick={() => change({ accepted: others })}>
          Take back
        </Button>
      </div>
    )
  }
  if (reason === null) {
    return (
      <div>
        <Button size="xs" variant="default" aria-label={`Accept ${name}`} onClick={() => setReason('')}>
          Accept
        </Button>
      </div>
    )
  }
  return (
    <div className="row row-end">
      <TextInput
        label={`Reason to accept ${name}`}
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
        data-autofocus
        flex="1 1 14rem"
      />
      <Button
        disabled={reason.trim() === ''}
        onClick={() => change({ accepted: [...others, { rule, path, reason: reason.trim() }] })}
      >
        Accept for this reason
      </Button>
      <Button variant="default" onClick={() => setReason(null)}>
        Leave it
      </Button>
    </div>
  )
}
