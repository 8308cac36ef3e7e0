interface GapRowProps {
  readonly pixels: number
  readonly columns: number
}

/** Stands in a table for rows that are not drawn. */
export function GapRow({ pixels, columns }: GapRowProps) {
  if (pixels <= 0) return null
  return (
    <tbody aria-hidden className="gap">
      <tr>
        <td colSpan={columns} style={{ height: pixels }} />
      </tr>
    </tbody>
  )
}
