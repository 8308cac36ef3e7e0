import { useLongCall } from '../../hooks/use-long-call.ts'
import { WriteInto } from './write-into.tsx'
import { WrittenCard } from './written-card.tsx'

/** A recorded content written once more, file by file, to a drive or a folder. */
export function RemakeInto({ fingerprint }: { readonly fingerprint: string }) {
  const { now, start } = useLongCall('contents:remake-into', `remake into ${fingerprint}`)
  return (
    <>
      <WriteInto
        asked={{ content: fingerprint }}
        act="Remake the card"
        isReady
        now={now}
        onWrite={(target) => start({ content: fingerprint, ...target })}
      />
      {now.state === 'done' && <WrittenCard card={now.value} />}
    </>
  )
}
