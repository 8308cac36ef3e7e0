import { Checkbox } from '@mantine/core'
import { Link } from 'wouter'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'

/** Whether the way to the card leads through preparing; and the way to look at it before. */
export function PrepareFirst() {
  const { draft, change } = useCardDraft()
  return (
    <div>
      <Checkbox
        label="Prepare what can be mended on the way"
        checked={draft.prepareFirst}
        onChange={(event) => change({ prepareFirst: event.currentTarget.checked })}
      />
      <p className="quiet">
        To see first what would be done to each sound:{' '}
        <Link href="/fonts/prepare/card">prepare these fonts</Link>.
      </p>
    </div>
  )
}
