import { crc32, deflateRawSync } from 'node:zlib'

/** One entry of an archive made by hand: it may lie in every way that a header can. */
export interface HandMadeEntry {
  readonly name: string | Uint8Array
  readonly data: Uint8Array
  readonly stored?: boolean
  readonly method?: number
  /** General purpose flags; 0x800 says that the name is UTF-8. */
  readonly flags?: number
  readonly unixMode?: number
  /** What the headers say the size is. */
  readonly saidSize?: number
  readonly wrongChecksum?: boolean
  /** The name in the central directory, where it is another. */
  readonly centralName?: string
  /** Points at the bytes of the entry before. */
  readonly overlaps?: boolean
  /** Locked with the format's first encryption. */
  readonly password?: string
}

const TIME = (3 << 11) | (4 << 5) | 3
const DATE = (44 << 9) | (1 << 5) | 2

/**
 * Writes a zip archive byte by byte, so that tests can make such as no library would.
 * Source: PKWARE APPNOTE.TXT 6.3.10, sections 4.3 and 6.1.
 */
export function handMadeZip(
  entries: readonly HandMadeEntry[],
  comment: Uint8Array = new Uint8Array(),
): Uint8Array {
  const locals: Uint8Array[] = []
  const centrals: Uint8Array[] = []
  let at = 0
  let before = 0
  for (const entry of entries) {
    const name = bytesOf(entry.name)
    const checksum = crc32(entry.data)
    const packed =
      entry.stored === true ? entry.data : new Uint8Array(deflateRawSync(entry.data, { level: 9 }))
    const body = entry.password === undefined ? packed : locked(packed, entry.password, checksum)
    const fields = [
      (entry.flags ?? 0x800) | (entry.password === undefined ? 0 : 1),
      entry.method ?? (entry.stored === true ? 0 : 8),
      TIME,
      DATE,
    ]
    const sizes = [
      entry.wrongChecksum === true ? checksum ^ 0x5a5a5a5a : checksum,
      body.length,
      entry.saidSize ?? entry.data.length,
    ]
    locals.push(joined(u32(0x04034b50), u16(20, ...fields), u32(...sizes), u16(name.length, 0), name, body))
    const shown = entry.centralName === undefined ? name : bytesOf(entry.centralName)
    centrals.push(
      joined(
        u32(0x02014b50),
        u16(0x031e, 20, ...fields),
        u32(...sizes),
        u16(shown.length, 0, 0, 0, 0),
        u32(((entry.unixMode ?? 0o100644) << 16) >>> 0, entry.overlaps === true ? before : at),
        shown,
      ),
    )
    before = at
    at += locals.at(-1)?.length ?? 0
  }
  const directory = joined(...centrals)
  return joined(
    ...locals,
    directory,
    u32(0x06054b50),
    u16(0, 0, entries.length, entries.length),
    u32(directory.length, at),
    u16(comment.length),
    comment,
  )
}

function bytesOf(name: string | Uint8Array): Uint8Array {
  return typeof name === 'string' ? new TextEncoder().encode(name) : name
}

function u16(...values: readonly number[]): Uint8Array {
  return new Uint8Array(Uint16Array.from(values).buffer)
}

function u32(...values: readonly number[]): Uint8Array {
  return new Uint8Array(Uint32Array.from(values).buffer)
}

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts))
}

function locked(plain: Uint8Array, password: string, checksum: number): Uint8Array {
  const keys = [0x12345678, 0x23456789, 0x34567890]
  const update = (byte: number) => {
    keys[0] = crcStep(keys[0]!, byte)
    keys[1] = (Math.imul(keys[1]! + (keys[0] & 255), 134775813) + 1) >>> 0
    keys[2] = crcStep(keys[2]!, keys[1] >>> 24)
  }
  for (const byte of bytesOf(password)) update(byte)
  const header = Uint8Array.from({ length: 12 }, (_, index) => (index < 11 ? index : checksum >>> 24))
  return joined(header, plain).map((byte) => {
    const word = (keys[2]! | 2) & 0xffff
    update(byte)
    return byte ^ ((Math.imul(word, word ^ 1) >>> 8) & 255)
  })
}

function crcStep(crc: number, byte: number): number {
  let value = (crc ^ byte) & 255
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1
  return ((crc >>> 8) ^ value) >>> 0
}
