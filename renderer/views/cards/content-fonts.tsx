import { TextInput } from '@mantine/core'
import { useState } from 'react'
import { Link } from 'wouter'
import { inUnits } from '../../../app/model/in-units.ts'
import { counted, fontInWords } from '../../elements/in-words.ts'
import { ContentFiles } from './content-files.tsx'
import type { ShownContent } from './content-page.tsx'

type Font = ShownContent['fonts'][number]

/** The fonts as the board counts them, from the record of the card and not from later edits. */
export function ContentFonts({ content }: { readonly content: ShownContent }) {
  const { fonts, files } = content
  const [asked, setAsked] = useState('')
  const isOfFont = (path: string) => fonts.some(({ folder }) => path.startsWith(`${folder}/`))
  const others = files.filter(({ path }) => !isOfFont(path))
  return (
    <section className="sheet sheet-stack" aria-label="Fonts as the board counts them">
      <div className="row">
        <h2>Fonts as the board counts them</h2>
        <span className="spring" />
        <span className="row unbroken">
          <label htmlFor="asked-number">Which one is number</label>
          <TextInput
            id="asked-number"
            inputMode="numeric"
            autoComplete="off"
            w="4.5rem"
            value={asked}
            onChange={(event) => setAsked(event.currentTarget.value)}
          />
        </span>
        <strong role="status">{answer(asked, fonts)}</strong>
      </div>
      <ol className="order made-fonts" aria-label="Fonts">
        {fonts.map((font) => (
          <li key={font.slot} data-asked={String(font.slot) === asked.trim() ? true : undefined}>
            <span className="number">{font.slot}</span>
            <div className="made-font">
              <div className="order-font">
                <span>
                  <Link href={`/fonts/${font.editionId}`}>{fontInWords(font.font, font.version)}</Link>
                  {font.creator !== null && <span className="quiet"> by {font.creator}</span>}
                </span>
                <span className="quiet number">{inUnits(font.usedBytes)}</span>
              </div>
              <ContentFiles
                name={font.folder}
                files={files.filter(({ path }) => path.startsWith(`${font.folder}/`))}
              />
            </div>
          </li>
        ))}
      </ol>
      {others.length > 0 && <ContentFiles name="What lies beside the fonts" files={others} />}
      <p className="quiet">
        {counted(files.length, 'file')} in all, each kept in the store by its SHA-256 and laid out in this
        order.
      </p>
    </section>
  )
}

function answer(asked: string, fonts: readonly Font[]): string {
  if (asked.trim() === '') return ''
  const found = fonts.find(({ slot }) => String(slot) === asked.trim())
  return found === undefined
    ? 'There is none of that number.'
    : `${fontInWords(found.font, found.version)}, folder ${found.folder}`
}
