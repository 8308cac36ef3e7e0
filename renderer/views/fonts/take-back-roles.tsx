import { Button } from '@mantine/core'
import { useState } from 'react'
import { counted } from '../../elements/in-words.ts'
import type { RoleActs } from '../../hooks/use-font-roles.ts'

interface TakeBackRolesProps {
  /** How many sounds were told by hand. */
  readonly count: number
  readonly acts: RoleActs
}

/** Takes back all that was told of a font, after asking once. */
export function TakeBackRoles({ count, acts }: TakeBackRolesProps) {
  const [isAsking, setIsAsking] = useState(false)
  if (count === 0) return null
  if (!isAsking) {
    return (
      <Button variant="default" onClick={() => setIsAsking(true)}>
        Take back all …
      </Button>
    )
  }
  return (
    <div className="row" role="group" aria-label="Take back all">
      <span>{counted(count, 'told role')} will be forgotten, and names read again.</span>
      <Button
        color="brick"
        data-autofocus
        onClick={() => {
          setIsAsking(false)
          acts.takeBack()
        }}
      >
        Take back {counted(count, 'role')}
      </Button>
      <Button variant="default" onClick={() => setIsAsking(false)}>
        Leave them
      </Button>
    </div>
  )
}
