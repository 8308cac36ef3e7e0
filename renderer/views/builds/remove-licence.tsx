import { Button } from '@mantine/core'
import { useState } from 'react'
import { useLocation } from 'wouter'
import { ErrorNote } from '../../elements/error-note.tsx'
import { useChange } from '../../hooks/use-change.ts'

/** Removes a licence from the records, after one more word. */
export function RemoveLicence({ id }: { readonly id: string }) {
  const remove = useChange('licences:remove')
  const [isAsked, setIsAsked] = useState(false)
  const [, go] = useLocation()
  if (!isAsked) {
    return (
      <Button variant="default" onClick={() => setIsAsked(true)}>
        Remove …
      </Button>
    )
  }
  return (
    <div className="row" role="group" aria-label="Remove this licence?">
      <span>Cards already made keep their record of it.</span>
      <Button
        color="brick"
        loading={remove.isRunning}
        onClick={() => void remove.run({ id }).then((removed) => removed && go('/builds/licences'))}
      >
        Remove the licence
      </Button>
      <Button variant="default" onClick={() => setIsAsked(false)}>
        Keep it
      </Button>
      {remove.error !== null && <ErrorNote error={remove.error} />}
    </div>
  )
}
