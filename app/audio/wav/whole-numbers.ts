/** Reads whole numbers from a small stretch of bytes; what lies beyond its end reads as 0. */
export interface WholeNumbers {
  u16(bytes: Uint8Array, at: number): number
  u32(bytes: Uint8Array, at: number): number
}

const byte = (bytes: Uint8Array, at: number) => bytes[at] ?? 0

export const littleEndian: WholeNumbers = {
  u16: (bytes, at) => byte(bytes, at) | (byte(bytes, at + 1) << 8),
  u32: (bytes, at) =>
    (byte(bytes, at) | (byte(bytes, at + 1) << 8) | (byte(bytes, at + 2) << 16)) +
    byte(bytes, at + 3) * 0x1000000,
}

export const bigEndian: WholeNumbers = {
  u16: (bytes, at) => (byte(bytes, at) << 8) | byte(bytes, at + 1),
  u32: (bytes, at) =>
    byte(bytes, at) * 0x1000000 +
    ((byte(bytes, at + 1) << 16) | (byte(bytes, at + 2) << 8) | byte(bytes, at + 3)),
}

/** The low 53 bits of a little-endian 64-bit number; larger ones saturate. */
export function u64(bytes: Uint8Array, at: number): number {
  const value = littleEndian.u32(bytes, at) + littleEndian.u32(bytes, at + 4) * 0x100000000
  return Math.min(value, Number.MAX_SAFE_INTEGER)
}

/** Four bytes as a chunk id; bytes that are no printable ASCII show as `?`. */
export function fourCharacters(bytes: Uint8Array, at: number): string {
  let id = ''
  for (let index = 0; index < 4; index++) {
    const code = byte(bytes, at + index)
    id += code >= 0x20 && code < 0x7f ? String.fromCharCode(code) : '?'
  }
  return id
}

/** Whether four bytes can be a chunk id: printable ASCII (Microsoft/IBM 1991, "Chunks"). */
export function isChunkId(bytes: Uint8Array, at: number): boolean {
  for (let index = 0; index < 4; index++) {
    const code = byte(bytes, at + index)
    if (code < 0x20 || code > 0x7e) return false
  }
  return true
}
