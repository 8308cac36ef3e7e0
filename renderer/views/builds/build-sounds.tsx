import { Button } from '@mantine/core'
import { useState } from 'react'
import type { Build } from '../../../app/model/records.ts'
import type { SingleSound } from '../../../app/model/single-sound.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { fontInWords, roleInWords } from '../../elements/in-words.ts'
import type { Kept } from '../../elements/kept-in-words.ts'
import { KeptNotes } from '../../elements/kept-notes.tsx'
import { useChange } from '../../hooks/use-change.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { ChangeSound, type SoundChange } from './change-sound.tsx'

interface BuildSoundsProps {
  readonly build: Build
  readonly rows: readonly FontRow[]
}

/** In which single sounds a build plays otherwise than its fonts as they came. */
export function BuildSounds({ build, rows }: BuildSoundsProps) {
  const change = useChange('builds:sounds')
  const [kept, setKept] = useState<Kept | null>(null)
  const titles = new Map(rows.map(({ id, font, version }) => [id, fontInWords(font.name, version)]))
  const titleOf = (id: string): string => titles.get(id) ?? 'a font that is not known any more'
  const run = (wanted: SoundChange): void => {
    setKept(null)
    void change.run({ id: build.id, change: wanted }).then((done) => done && setKept(done.kept))
  }
  return (
    <section className="sheet sheet-stack" aria-labelledby="build-sounds">
      <h2 id="build-sounds">Single sounds</h2>
      <p className="quiet">
        For this build alone; the fonts stay as they came. A lent sound is judged and prepared with the font
        that it plays in, and the credits name the font that lends it.
      </p>
      {build.singleSounds.length > 0 && (
        <ul aria-label="Single sounds of this build">
          {build.singleSounds.map((single, index) => {
            const sentence = inWords(single, titleOf)
            const isWaiting = !build.fontEditionIds.includes(single.editionId)
            return (
              <li className="row" key={`${index} ${sentence}`}>
                <span className="break">
                  {sentence}
                  {isWaiting && <strong> (waits: the font is not in the build)</strong>}
                </span>
                <Button
                  variant="default"
                  size="sm"
                  aria-label={`Take back: ${sentence}`}
                  disabled={change.isRunning}
                  onClick={() =>
                    run({ act: 'take-back', editionId: single.editionId, path: pathToTakeBack(single) })
                  }
                >
                  Take back
                </Button>
              </li>
            )
          })}
        </ul>
      )}
      {build.fontEditionIds.length === 0 ? (
        <p>Give the build a font first.</p>
      ) : (
        <ChangeSound build={build} rows={rows} isRunning={change.isRunning} onChange={run} />
      )}
      <KeptNotes kept={kept} />
      {change.error !== null && <ErrorNote error={change.error} />}
    </section>
  )
}

function pathToTakeBack(single: SingleSound): string {
  return single.kind === 'added' ? single.sound.path : single.path
}

function inWords(single: SingleSound, titleOf: (id: string) => string): string {
  const font = titleOf(single.editionId)
  if (single.kind === 'left-out') return `${font}: ${single.path} left out`
  const lent = `${single.sound.path} of ${titleOf(single.sound.editionId)}`
  if (single.kind === 'replaced') return `${font}: ${lent} in the place of ${single.path}`
  const as = single.place === null ? '' : `, as ${roleInWords(single.place)}`
  return `${font}: ${lent} added${as}`
}
