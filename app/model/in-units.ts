const BINARY = ['KiB', 'MiB', 'GiB', 'TiB'] as const

/** A number of bytes for people, by IEC 80000-13: `512 B`, `4 KiB`, `14.9 GiB`. */
export function inUnits(sizeBytes: number): string {
  if (sizeBytes < 1024) return `${sizeBytes} B`
  let value = sizeBytes
  let unit = 'B'
  for (const next of BINARY) {
    if (value < 1024) break
    value /= 1024
    unit = next
  }
  return `${Number.isInteger(value) || value >= 1000 ? Math.round(value) : value.toFixed(1)} ${unit}`
}
