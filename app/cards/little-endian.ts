/** Little-endian numbers in a byte array, as FAT has them. */

export function putU16(bytes: Uint8Array, at: number, value: number): void {
  bytes[at] = value & 0xff
  bytes[at + 1] = (value >>> 8) & 0xff
}

export function putU32(bytes: Uint8Array, at: number, value: number): void {
  putU16(bytes, at, value & 0xffff)
  putU16(bytes, at + 2, Math.floor(value / 0x10000) & 0xffff)
}

/** Numbers up to 2^53. */
export function putU64(bytes: Uint8Array, at: number, value: number): void {
  putU32(bytes, at, value % 2 ** 32)
  putU32(bytes, at + 4, Math.floor(value / 2 ** 32))
}

export function putAscii(bytes: Uint8Array, at: number, text: string): void {
  for (let index = 0; index < text.length; index++) bytes[at + index] = text.charCodeAt(index)
}

export function u16At(bytes: Uint8Array, at: number): number {
  return (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8)
}

export function u32At(bytes: Uint8Array, at: number): number {
  return u16At(bytes, at) + u16At(bytes, at + 2) * 0x10000
}
