/** First byte of a scalar value by how many bytes follow it. */
const LEADS = [0x00, 0xc0, 0xe0, 0xf0]

/** Text as UTF-8 (RFC 3629); half a surrogate pair becomes U+FFFD. */
export function utf8Bytes(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length * 3)
  let at = 0
  for (const character of text) {
    const point = scalarOf(character.codePointAt(0) ?? 0)
    if (point < 0x80) {
      bytes[at++] = point
      continue
    }
    const more = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3
    bytes[at++] = (LEADS[more] ?? 0) | (point >> (6 * more))
    for (let left = more - 1; left >= 0; left--) bytes[at++] = 0x80 | ((point >> (6 * left)) & 0x3f)
  }
  return bytes.slice(0, at)
}

/** UTF-8 as text; what is no UTF-8 becomes U+FFFD. */
export function utf8Text(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length;) {
    const { point, length } = scalarAt(bytes, at)
    text += String.fromCodePoint(point)
    at += length
  }
  return text
}

function scalarAt(bytes: Uint8Array, at: number): { point: number; length: number } {
  const lead = bytes[at] ?? 0
  if (lead < 0x80) return { point: lead, length: 1 }
  const more =
    lead >= 0xc2 && lead < 0xe0 ? 1 : lead >= 0xe0 && lead < 0xf0 ? 2 : lead >= 0xf0 && lead < 0xf5 ? 3 : 0
  if (more === 0) return { point: 0xfffd, length: 1 }
  let point = lead & (0x3f >> more)
  for (let index = 1; index <= more; index++) {
    const next = bytes[at + index] ?? 0
    if ((next & 0xc0) !== 0x80) return { point: 0xfffd, length: index }
    point = (point << 6) | (next & 0x3f)
  }
  const least = [0, 0x80, 0x800, 0x10000][more] ?? 0
  const isWrong = point < least || point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff)
  return { point: isWrong ? 0xfffd : point, length: more + 1 }
}

function scalarOf(point: number): number {
  return point >= 0xd800 && point <= 0xdfff ? 0xfffd : point
}
