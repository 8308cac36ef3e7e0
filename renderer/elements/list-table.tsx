import type { ReactNode } from 'react'

export interface Column<T> {
  readonly head: string
  /** `only-heard` for a column of acts, whose head would tell nothing that is not seen. */
  readonly isHeadHidden?: boolean
  readonly isNumber?: boolean
  /** `name`, `mono`, `break` */
  readonly look?: string
  readonly cell: (row: T) => ReactNode
}

interface ListTableProps<T> {
  readonly rows: readonly T[]
  readonly keyOf: (row: T) => string
  readonly columns: readonly Column<T>[]
  /** Said where there are none. */
  readonly none: string
  readonly name?: string
}

/** A plain list: a line each, the same columns throughout, or one sentence where there is nothing. */
export function ListTable<T>({ rows, keyOf, columns, none, name }: ListTableProps<T>) {
  if (rows.length === 0) return <p className="quiet">{none}</p>
  return (
    <div className="table-frame">
      <table className="table" aria-label={name}>
        <thead>
          <tr>
            {columns.map(({ head, isHeadHidden, isNumber }) => (
              <th key={head} className={isNumber === true ? 'number' : undefined}>
                {isHeadHidden === true ? <span className="only-heard">{head}</span> : head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={keyOf(row)}>
              {columns.map(({ head, look, isNumber, cell }) => (
                <td key={head} className={isNumber === true ? 'number' : look}>
                  {cell(row)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
