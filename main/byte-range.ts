/** Bytes from `start` up to, not including, `end`. */
export interface ByteRange {
  readonly start: number
  readonly end: number
}

/**
 * What one `Range` header asks of a file: undefined for the whole file (no header, several ranges or
 * another unit, which a server may ignore), `unsatisfiable` where it lies beyond the end.
 * Source: RFC 9110, section 14.
 */
export function readRange(
  header: string | undefined,
  sizeBytes: number,
): ByteRange | 'unsatisfiable' | undefined {
  const match = /^bytes=(\d{0,15})-(\d{0,15})$/.exec(header?.trim() ?? '')
  const [, from = '', to = ''] = match ?? []
  if (match === null || (from === '' && to === '')) return undefined
  if (from === '') {
    const length = Math.min(Number(to), sizeBytes)
    return length === 0 ? 'unsatisfiable' : { start: sizeBytes - length, end: sizeBytes }
  }
  const start = Number(from)
  const end = to === '' ? sizeBytes : Math.min(Number(to) + 1, sizeBytes)
  if (to !== '' && Number(to) < start) return undefined
  return start >= sizeBytes ? 'unsatisfiable' : { start, end }
}
