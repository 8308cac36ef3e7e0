import { useId, useRef, useState, type ReactNode } from 'react'
import { useSteady } from '../hooks/use-steady.ts'
import { counted } from './in-words.ts'
import { withMoved } from './list-order.ts'
import { OrderedFontRow, type Grip } from './ordered-font-row.tsx'

export interface OrderedFont {
  readonly editionId: string
  readonly name: string
  /** What is to be seen beside it. */
  readonly beside: ReactNode
}

interface OrderedFontsProps {
  readonly name: string
  /** A row is drawn anew only where its font is another object than before, or has another place. */
  readonly fonts: readonly OrderedFont[]
  /** Number of the first, as the board counts. */
  readonly firstNumber?: number
  /** Absent where the order is only shown. */
  readonly onChange?: (editionIds: readonly string[]) => void
}

/** Fonts in play order. A move is told to screen readers, and the focus goes along with the font. */
export function OrderedFonts({ name, fonts, firstNumber = 1, onChange }: OrderedFontsProps) {
  const list = useRef<HTMLOListElement>(null)
  const listId = useId()
  const [told, setTold] = useState('')
  const ids = fonts.map((font) => font.editionId)
  const steadyMove = useSteady(move)
  const steadyLeaveOut = useSteady(leaveOut)

  if (onChange === undefined) {
    return (
      <ol className="order order-fixed" aria-label={name}>
        {fonts.map((font, index) => (
          <li key={font.editionId}>
            <span className="number">{index + firstNumber}</span>
            <span className="order-font">
              <strong className="break">{font.name}</strong>
              <span>{font.beside}</span>
            </span>
          </li>
        ))}
      </ol>
    )
  }

  function move(from: number, to: number, focus: Grip | null): void {
    const moved = withMoved(ids, from, to)
    if (moved === ids) return
    onChange?.(moved)
    setTold(
      `${fonts[from]?.name ?? ''} is number ${to + firstNumber} now, of ${counted(ids.length, 'font')}.`,
    )
    if (focus !== null) focusRow(to, focus)
  }

  function leaveOut(index: number): void {
    onChange?.(ids.filter((_, at) => at !== index))
    setTold(`${fonts[index]?.name ?? ''} is left out; ${counted(ids.length - 1, 'font')} in order.`)
    focusRow(Math.min(index, ids.length - 2), 'out')
  }

  /** After the list has been drawn anew; the next control where the wanted one is switched off. */
  function focusRow(index: number, wanted: Grip | 'out'): void {
    requestAnimationFrame(() => {
      const controls = [
        ...(list.current?.children[index]?.querySelectorAll<HTMLElement>('[data-grip]:not(:disabled)') ?? []),
      ]
      const found =
        controls.find((each) => each.dataset['grip'] === wanted) ??
        controls.find((each) => each.dataset['grip'] !== 'number')
      found?.focus()
    })
  }

  return (
    <div>
      <ol className="order" aria-label={name} ref={list}>
        {fonts.map((font, index) => (
          <OrderedFontRow
            key={font.editionId}
            font={font}
            index={index}
            count={fonts.length}
            firstNumber={firstNumber}
            listId={listId}
            onMove={steadyMove}
            onLeaveOut={steadyLeaveOut}
          />
        ))}
      </ol>
      {fonts.length > 1 && (
        <p className="quiet order-hint">
          Drag a font to its place, type its number, or press Alt with Up or Down.
        </p>
      )}
      <p role="status" className="only-heard">
        {told}
      </p>
    </div>
  )
}
