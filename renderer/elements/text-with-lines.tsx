import { useRef, type RefObject } from 'react'

interface TextWithLinesProps {
  readonly name: string
  readonly text: string
  readonly onChange: (text: string) => void
  /** Lines with a fault, counted from 1. */
  readonly faultyLines: ReadonlySet<number>
  /** Id of the element that tells the faults. */
  readonly describedBy: string
  readonly field: RefObject<HTMLTextAreaElement | null>
}

/** A text to edit with its line numbers; a line with a fault has a mark beside its number. */
export function TextWithLines(props: TextWithLinesProps) {
  const { name, text, onChange, faultyLines, describedBy, field } = props
  const gutter = useRef<HTMLDivElement>(null)
  const lines = text.split('\n')
  return (
    <div className="lined-text mono">
      <div className="lined-text-numbers" ref={gutter} aria-hidden="true">
        {lines.map((_, index) => (
          // Lines have no name but their number.
          <div key={index} data-faulty={faultyLines.has(index + 1) ? true : undefined}>
            {faultyLines.has(index + 1) && '▸ '}
            {index + 1}
          </div>
        ))}
      </div>
      <textarea
        ref={field}
        aria-label={name}
        aria-describedby={describedBy}
        aria-invalid={faultyLines.size > 0}
        value={text}
        wrap="off"
        spellCheck={false}
        autoCapitalize="off"
        autoComplete="off"
        onChange={(event) => onChange(event.currentTarget.value)}
        onScroll={(event) => {
          if (gutter.current !== null) gutter.current.scrollTop = event.currentTarget.scrollTop
        }}
      />
    </div>
  )
}

/** Puts the cursor at a line and column, both counted from 1, and brings them into view. */
export function goToPosition(field: HTMLTextAreaElement, line: number, column: number): void {
  const lines = field.value.split('\n')
  const before = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0)
  const at = before + Math.min(column - 1, lines[line - 1]?.length ?? 0)
  field.focus()
  field.setSelectionRange(at, at)
  const lineHeight = field.scrollHeight / Math.max(1, lines.length)
  field.scrollTop = Math.max(0, (line - 4) * lineHeight)
}
