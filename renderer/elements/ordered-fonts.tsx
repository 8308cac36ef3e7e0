import { useRef, type ReactNode } from 'react'
import { Icon } from './icon.tsx'

export interface OrderedFont {
  readonly editionId: string
  readonly name: string
  /** What is to be seen beside it. */
  readonly beside: ReactNode
}

interface OrderedFontsProps {
  readonly name: string
  readonly fonts: readonly OrderedFont[]
  /** Absent where the order is only shown. */
  readonly onChange?: (editionIds: readonly string[]) => void
}

/** Fonts in play order; each moves by its buttons, or by Alt with the arrow keys while one has the focus. */
export function OrderedFonts({ name, fonts, onChange }: OrderedFontsProps) {
  const list = useRef<HTMLOListElement>(null)

  function move(from: number, to: number, button: 'up' | 'down'): void {
    if (to < 0 || to >= fonts.length) return
    const ids = fonts.map((font) => font.editionId)
    const [moved] = ids.splice(from, 1)
    if (moved === undefined) return
    ids.splice(to, 0, moved)
    onChange?.(ids)
    // The focus follows the font, so that the next press moves it on.
    requestAnimationFrame(() => {
      const buttons = list.current?.children[to]?.querySelectorAll<HTMLButtonElement>('button:not(:disabled)')
      const wanted = [...(buttons ?? [])].find((each) => each.dataset['move'] === button)
      ;(wanted ?? buttons?.[0])?.focus()
    })
  }

  return (
    <ol className="order" aria-label={name} ref={list}>
      {fonts.map((font, index) => (
        <li
          key={font.editionId}
          onKeyDown={(event) => {
            if (!event.altKey || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return
            event.preventDefault()
            const isUp = event.key === 'ArrowUp'
            move(index, index + (isUp ? -1 : 1), isUp ? 'up' : 'down')
          }}
        >
          <span className="number">{index + 1}</span>
          <span className="order-font">
            <strong className="break">{font.name}</strong>
            <span>{font.beside}</span>
          </span>
          {onChange !== undefined && (
            <span className="row">
              <button
                type="button"
                className="small-button"
                data-move="up"
                aria-label={`Move ${font.name} up`}
                disabled={index === 0}
                onClick={() => move(index, index - 1, 'up')}
              >
                <Icon name="up" />
              </button>
              <button
                type="button"
                className="small-button"
                data-move="down"
                aria-label={`Move ${font.name} down`}
                disabled={index === fonts.length - 1}
                onClick={() => move(index, index + 1, 'down')}
              >
                <Icon name="down" />
              </button>
              <button
                type="button"
                className="small-button"
                aria-label={`Leave ${font.name} out`}
                onClick={() => onChange(fonts.filter((each) => each !== font).map((each) => each.editionId))}
              >
                <Icon name="remove" />
              </button>
            </span>
          )}
        </li>
      ))}
    </ol>
  )
}
