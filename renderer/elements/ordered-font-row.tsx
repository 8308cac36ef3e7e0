import { memo, useRef, useState } from 'react'
import { useDragInList } from '../hooks/use-drag-in-list.ts'
import { Icon } from './icon.tsx'
import { placeTyped } from './list-order.ts'
import type { OrderedFont } from './ordered-fonts.tsx'

interface OrderedFontRowProps {
  readonly font: OrderedFont
  readonly index: number
  readonly count: number
  readonly firstNumber: number
  readonly listId: string
  readonly onMove: (from: number, to: number, focus: Grip | null) => void
  readonly onLeaveOut: (index: number) => void
}

/** What moved a font by keys, and goes on having the focus. */
export type Grip = 'up' | 'down' | 'number'

/** One font of the order: it is dragged, or moves by its buttons, its number, or Alt with an arrow key. */
export const OrderedFontRow = memo(function OrderedFontRow(props: OrderedFontRowProps) {
  const { font, index, count, firstNumber, listId, onMove, onLeaveOut } = props
  const row = useRef<HTMLLIElement>(null)
  const { isDragged, landsAt } = useDragInList({
    row,
    listId,
    index,
    isFixed: count < 2,
    onMoved: (from, to) => onMove(from, to, null),
  })
  return (
    <li
      ref={row}
      data-dragged={isDragged ? true : undefined}
      data-lands={landsAt ?? undefined}
      onKeyDown={(event) => {
        if (!event.altKey || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return
        event.preventDefault()
        if (event.key === 'ArrowUp') onMove(index, index - 1, 'up')
        else onMove(index, index + 1, 'down')
      }}
    >
      <span className="order-place">
        <span className="order-grip">
          <Icon name="grip" />
        </span>
        <NumberField
          // Another place begins afresh.
          key={index}
          name={font.name}
          number={index + firstNumber}
          onTyped={(text, byEnter) => {
            const to = placeTyped(text, firstNumber, count)
            if (to !== null && to !== index) onMove(index, to, byEnter ? 'number' : null)
          }}
        />
      </span>
      <span className="order-font">
        <strong className="break">{font.name}</strong>
        <span>{font.beside}</span>
      </span>
      <span className="row">
        <button
          type="button"
          className="small-button"
          data-grip="up"
          aria-label={`Move ${font.name} up`}
          disabled={index === 0}
          onClick={() => onMove(index, index - 1, 'up')}
        >
          <Icon name="up" />
        </button>
        <button
          type="button"
          className="small-button"
          data-grip="down"
          aria-label={`Move ${font.name} down`}
          disabled={index === count - 1}
          onClick={() => onMove(index, index + 1, 'down')}
        >
          <Icon name="down" />
        </button>
        <button
          type="button"
          className="small-button"
          data-grip="out"
          aria-label={`Leave ${font.name} out`}
          onClick={() => onLeaveOut(index)}
        >
          <Icon name="remove" />
        </button>
      </span>
    </li>
  )
})

interface NumberFieldProps {
  readonly name: string
  readonly number: number
  readonly onTyped: (text: string, byEnter: boolean) => void
}

/** The number a font has, which is also where another is typed. */
function NumberField({ name, number, onTyped }: NumberFieldProps) {
  const [text, setText] = useState(String(number))
  const wasEntered = useRef(false)
  return (
    <input
      className="order-number"
      data-grip="number"
      aria-label={`Number of ${name} in play order`}
      inputMode="numeric"
      autoComplete="off"
      value={text}
      onChange={(event) => setText(event.currentTarget.value)}
      onFocus={(event) => {
        wasEntered.current = false
        event.currentTarget.select()
      }}
      onBlur={() => {
        setText(String(number))
        onTyped(text, wasEntered.current)
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') setText(String(number))
        if (event.key !== 'Enter') return
        // Not the form around it; leaving the field settles it, once.
        event.preventDefault()
        wasEntered.current = true
        event.currentTarget.blur()
      }}
    />
  )
}
