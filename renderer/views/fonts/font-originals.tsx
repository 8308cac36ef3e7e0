import { Button, Checkbox } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { counted } from '../../elements/in-words.ts'
import type { Kept } from '../../elements/kept-in-words.ts'
import { KeptNotes } from '../../elements/kept-notes.tsx'
import { Note } from '../../elements/note.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'

/** What the workshop keeps of a font should its download be lost, with the room it takes. */
export function FontOriginals({ editionId }: { readonly editionId: string }) {
  const originals = useAsk('originals:show', { editionId })
  return (
    <section className="sheet sheet-stack" aria-labelledby="font-originals">
      <h2 id="font-originals">Originals in the workshop</h2>
      <WhenLoaded loaded={originals} what="what is kept">
        {(shown) => <ShownOriginals shown={shown} />}
      </WhenLoaded>
    </section>
  )
}

function ShownOriginals({ shown }: { readonly shown: ResponseOf<'originals:show'> }) {
  const { editionId, files, bytes, keptFiles, keptBytes, earlierFiles, earlierBytes, neededBy } = shown
  const keep = useChange('originals:keep')
  const release = useChange('originals:release')
  const [kept, setKept] = useState<Kept | null>(null)
  const [released, setReleased] = useState<string | null>(null)
  const [isLoss, setIsLoss] = useState(false)
  function forget(): void {
    setKept(null)
    setReleased(null)
  }

  const isKept = keptFiles + earlierFiles > 0
  const error = keep.error ?? release.error
  return (
    <>
      <p>
        {keptFiles === 0
          ? `None of ${counted(files, 'file')} (${inUnits(bytes)}) is kept: its cards need its folder or archive.`
          : `${keptFiles} of ${counted(files, 'file')} kept, ${inUnits(keptBytes)} of ${inUnits(bytes)}: cards can be made when the download is gone.`}
      </p>
      {earlierFiles > 0 && (
        <p>
          {counted(earlierFiles, 'file')} besides, as they were before the folder changed,{' '}
          {inUnits(earlierBytes)}.
        </p>
      )}
      {neededBy.length > 0 && (
        <>
          <p>Not to be released, since they are needed by</p>
          <ul>
            {neededBy.map(({ kind, name }) => (
              <li key={`${kind} ${name}`}>
                {kind} {name}
              </li>
            ))}
          </ul>
        </>
      )}
      {!shown.isElsewhere && isKept && neededBy.length === 0 && (
        <Checkbox
          label="Its folder is gone and this is the only copy: lose it all the same"
          checked={isLoss}
          onChange={(event) => setIsLoss(event.currentTarget.checked)}
        />
      )}
      <div className="row">
        <Button
          variant="default"
          disabled={keptFiles === files || !shown.isElsewhere}
          loading={keep.isRunning}
          onClick={() => {
            forget()
            void keep.run({ editionId }).then((done) => done && setKept(done.kept))
          }}
        >
          Keep its originals
        </Button>
        <Button
          variant="default"
          disabled={!isKept || neededBy.length > 0 || (!shown.isElsewhere && !isLoss)}
          loading={release.isRunning}
          onClick={() => {
            forget()
            void release
              .run({ editionId, ...(isLoss ? { onlyCopy: true } : {}) })
              .then(
                (done) =>
                  done &&
                  setReleased(`Released ${counted(done.freedFiles, 'file')}, ${inUnits(done.freedBytes)}.`),
              )
          }}
        >
          Release them
        </Button>
      </div>
      <KeptNotes kept={kept} />
      {released !== null && <Note tone="good" title={released} role="status" />}
      {error !== null && <ErrorNote error={error} />}
    </>
  )
}
