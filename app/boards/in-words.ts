/** `44100`, `16 or 24`, `hum, swing or clash`; with another joint `hum, swing and clash`. */
export function listed(values: readonly (string | number)[], joint: 'or' | 'and' = 'or'): string {
  const words = values.map(String)
  const last = words.at(-1) ?? 'none'
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} ${joint} ${last}`
}

/** `1 font`, `12 fonts`. */
export function oneOrMore(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`
}

const UNITS = ['bytes', 'KiB', 'MiB', 'GiB', 'TiB']

/** A size in the largest unit in which it is a plain number: `4 KiB`, `1.5 MiB`, `37 bytes`. */
export function inBytes(sizeBytes: number): string {
  let unit = 0
  let size = sizeBytes
  while (size >= 1024 && unit < UNITS.length - 1) {
    size /= 1024
    unit++
  }
  return `${Number(size.toFixed(2))} ${UNITS[unit] ?? ''}`
}

/** A number with at most this many decimals, without trailing zeros; a true minus sign is left to the doors. */
export function rounded(value: number, decimals = 1): string {
  return String(Number(value.toFixed(decimals)))
}

/** A text from a file's name or its inside, cut and without control characters, for use in a sentence. */
export function shown(text: string): string {
  // eslint-disable-next-line no-control-regex
  const plain = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, '\ufffd')
  return plain.length > 120 ? `${plain.slice(0, 117)}…` : plain
}
