import type { ChangeRow } from './prepared-in-words.ts'

/** A sound before and after, value by value; what changes stands out in weight as well as by its arrow. */
export function BeforeAfter({ rows }: { readonly rows: readonly ChangeRow[] }) {
  return (
    <dl className="changes">
      {rows.map(({ name, before, after, unit }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd className="number">
            {before}
            {after !== null && after !== before && (
              <>
                {' '}
                <span aria-hidden="true">→</span>
                <span className="only-heard">becomes</span> <strong>{after}</strong>
              </>
            )}{' '}
            {unit}
          </dd>
        </div>
      ))}
    </dl>
  )
}
