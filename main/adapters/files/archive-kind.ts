/** What a file is by its first bytes, where that is some archive. */
export interface ArchiveKind {
  readonly isZip: boolean
  /** For a sentence: `a RAR archive`. */
  readonly words: string
}

/** `PK`: all records of a zip archive begin with it. */
const ZIP = '504b'

/** First bytes that tell an archive; sources: PKWARE APPNOTE 4.3, RFC 1952, RFC 8878, the rest from memory. */
const SIGNATURES: readonly (readonly [hex: string, at: number, words: string])[] = [
  ['504b0304', 0, 'a zip archive'],
  ['504b0506', 0, 'an empty zip archive'],
  ['504b0708', 0, 'one part of a split zip archive'],
  ['377abcaf271c', 0, 'a 7z archive'],
  ['526172211a07', 0, 'a RAR archive'],
  ['1f8b', 0, 'a gzip archive'],
  ['425a68', 0, 'a bzip2 archive'],
  ['fd377a585a00', 0, 'an xz archive'],
  ['28b52ffd', 0, 'a Zstandard archive'],
  ['04224d18', 0, 'an LZ4 archive'],
  ['4d534346', 0, 'a CAB archive'],
  ['60ea', 0, 'an ARJ archive'],
  ['2d6c68', 2, 'an LHA archive'],
  ['7573746172', 257, 'a tar archive'],
  ['4344303031', 32769, 'a disc image'],
]
/** How many first bytes tell all kinds but disc images, which lie far in. */
export const ARCHIVE_HEAD_BYTES = 512

/** @param head first bytes of the file */
export function archiveKindOf(head: Uint8Array): ArchiveKind | null {
  for (const [hex, at, words] of SIGNATURES) {
    const length = hex.length / 2
    if (head.length >= at + length && Buffer.from(head.subarray(at, at + length)).toString('hex') === hex) {
      return { isZip: hex.startsWith(ZIP), words }
    }
  }
  return null
}
