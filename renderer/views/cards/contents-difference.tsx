import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { counted, fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'

type Diff = ResponseOf<'contents:diff'>

/** How one content differs from another, the fonts before the files. */
export function ContentsDifference({ diff }: { readonly diff: Diff }) {
  const same = `${counted(diff.filesSame, 'file')} the same in both`
  if (isSame(diff)) return <Note tone="good" title={`No difference: ${same}.`} role="status" />
  return (
    <div className="sheet-stack" role="status">
      <p>
        <strong>They differ.</strong> {same}.
      </p>
      {!diff.isSameBoard && <p>Made for different boards, or the board was described otherwise.</p>}
      {!diff.isSameGeometry && <p>The cards are of different size or layout.</p>}
      <div className="two-columns">
        <OnlyOn fingerprint={diff.a} fonts={diff.fontsOnlyInA} files={diff.filesOnlyInA} />
        <OnlyOn fingerprint={diff.b} fonts={diff.fontsOnlyInB} files={diff.filesOnlyInB} />
      </div>
      <Part name="Fonts of another number" count={diff.fontsMoved.length} isOpen>
        {diff.fontsMoved.map(({ font, slotInA, slotInB }) => (
          <li key={`${font} ${slotInA}`}>
            <strong>{font}</strong>: number {slotInA}, then number {slotInB}
          </li>
        ))}
      </Part>
      <Part name="Files that changed" count={diff.filesChanged.length}>
        {diff.filesChanged.map(asPath)}
      </Part>
      <Part name="Files that moved" count={diff.filesMoved.length}>
        {diff.filesMoved.map(({ from, to }) => (
          <li key={from} className="mono break">
            {from} → {to}
          </li>
        ))}
      </Part>
    </div>
  )
}

interface OnlyOnProps {
  readonly fingerprint: string
  readonly fonts: Diff['fontsOnlyInA']
  readonly files: readonly string[]
}

function OnlyOn({ fingerprint, fonts, files }: OnlyOnProps) {
  return (
    <section className="sheet-stack" aria-label={`Only on ${fingerprint}`}>
      <h2>
        Only on <Link href={`/cards/contents/${fingerprint}`}>{fingerprint}</Link>
      </h2>
      {fonts.length === 0 && files.length === 0 && <p className="quiet">Nothing.</p>}
      <Part name="Fonts" count={fonts.length} isOpen>
        {fonts.map(({ slot, font, version }) => (
          <li key={slot}>
            number {slot}, <strong>{fontInWords(font, version)}</strong>
          </li>
        ))}
      </Part>
      <Part name="Files" count={files.length}>
        {files.map(asPath)}
      </Part>
    </section>
  )
}

interface PartProps {
  readonly name: string
  readonly count: number
  readonly isOpen?: boolean
  readonly children: ReactNode
}

function Part({ name, count, isOpen = false, children }: PartProps) {
  if (count === 0) return null
  return (
    <details open={isOpen || count <= 12}>
      <summary>
        {name} <span className="quiet number">{count.toLocaleString('en')}</span>
      </summary>
      <ul>{children}</ul>
    </details>
  )
}

function asPath(path: string): ReactNode {
  return (
    <li key={path} className="mono break">
      {path}
    </li>
  )
}

function isSame(diff: Diff): boolean {
  const { fontsOnlyInA, fontsOnlyInB, fontsMoved, filesOnlyInA, filesOnlyInB, filesChanged, filesMoved } =
    diff
  const lists = [fontsOnlyInA, fontsOnlyInB, fontsMoved, filesOnlyInA, filesOnlyInB, filesChanged, filesMoved]
  return diff.isSameBoard && diff.isSameGeometry && lists.every((list) => list.length === 0)
}
