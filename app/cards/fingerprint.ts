import type { CardGeometry, ContentFile } from '../model/content.ts'
import type { NewHasher } from '../ports/bytes.ts'
import { utf8Bytes } from './utf8-bytes.ts'

const CROCKFORD = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
const FINGERPRINT_CHARACTERS = 10

/** As long as any fingerprint, for measuring a document before the real one is known. */
export const BLANK_FINGERPRINT = '0'.repeat(FINGERPRINT_CHARACTERS)

/**
 * The name of a content: FORMAT.md, "Fingerprint".
 *
 * @param files in plan order; the two documents among them are passed over
 */
export function fingerprintOf(
  boardHash: string,
  geometry: CardGeometry,
  files: readonly Pick<ContentFile, 'path' | 'sizeBytes' | 'sha256' | 'origin'>[],
  newHasher: NewHasher,
): string {
  const g = geometry
  const lines = [
    'cardwright content 1',
    `board ${boardHash}`,
    `geometry ${g.fatType} ${g.sectorBytes} ${g.clusterBytes} ${g.imageBytes} ${g.partitionStartSector} ${g.partitionSectors} ${g.reservedSectors} ${g.fatSectors} ${g.rootEntryCount} ${g.clusterCount}`,
    ...files
      .filter((file) => file.origin.kind !== 'credits' && file.origin.kind !== 'licences')
      .map((file) => `file ${file.sizeBytes} ${file.sha256} ${file.path}`),
  ]
  const hasher = newHasher()
  for (const line of lines) hasher.update(utf8Bytes(`${line}\n`))
  return crockford(hasher.digestHex())
}

/** Whether a text has the form of a fingerprint. */
export function isFingerprint(text: string): boolean {
  return (
    text.length === FINGERPRINT_CHARACTERS && [...text].every((character) => CROCKFORD.includes(character))
  )
}

/** First 50 bits of a hexadecimal hash in Crockford's base32. */
function crockford(hex: string): string {
  let bits = BigInt(`0x${hex.slice(0, 13)}`) >> 2n
  let text = ''
  for (let index = 0; index < FINGERPRINT_CHARACTERS; index++) {
    text = (CROCKFORD[Number(bits & 31n)] ?? '') + text
    bits >>= 5n
  }
  return text
}
