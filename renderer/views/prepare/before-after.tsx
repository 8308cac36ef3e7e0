import type { ChangeRow } from './prepared-in-words.ts'

/** A sound before and after, value by value; what changes stands out in weight as well as by its arrow. */
export function BeforeAfter({ rows }: { readonly rows: readonly ChangeRow[] }) {
  return (
    <dl className="changes">
      {rows.map((row) => (
        <div key={row.name}>
          <dt>{row.name}</dt>
          <dd className="number">
            <Value {...row} />
          </dd>
        </div>
      ))}
    </dl>
  )
}

function Value({ before, after, unit }: ChangeRow) {
  const arrow = (
    <>
      <span aria-hidden="true">→</span>
      <span className="only-heard">becomes</span>
    </>
  )
  if (after === null || after === before) return `${before} ${unit}`
  if (after === '–')
    return (
      <>
        {before} {unit} {arrow} <span className="quiet">not known</span>
      </>
    )
  return (
    <>
      {before} {arrow} <strong>{after}</strong> {unit}
    </>
  )
}
