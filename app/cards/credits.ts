import type { LicenceRecord, LicensedFont } from '../model/licence-record.ts'
import type { LicenceKind } from '../model/records.ts'
import { isFingerprint } from './fingerprint.ts'
import { inUnits } from '../model/in-units.ts'

const CONTENT_LINE = /^Content ([0-9A-Z]{10})\b/m

const KIND_WORDS: Readonly<Record<LicenceKind, string>> = {
  bought: 'bought',
  gift: 'a gift',
  free: 'free of charge',
  own: "the installer's own work",
  commission: 'made to order',
}

/**
 * The text on the card for people: which font is which number, who made it, under which kind of
 * licence. Lines end in CR LF, for the plainest of editors.
 *
 * @param licencesName what the board calls the licence record
 */
export function creditsText(record: LicenceRecord, licencesName: string): string {
  const lines = [
    'Sound fonts on this card',
    `Content ${record.fingerprint}, made ${record.date.slice(0, 10)} with Cardwright ${record.toolVersion}`,
    `for a board of the kind "${oneLine(record.boardTitle)}"`,
    '',
    ...record.fonts.flatMap((font) => [...fontLines(font), '']),
    'The sounds belong to those who made them; a licence covers this card as its',
    `holder's records say. ${licencesName} lists every file with its SHA-256.`,
    'This is a record, not legal advice.',
  ]
  return lines.map((line) => `${line}\r\n`).join('')
}

/** The fingerprint that a credits text names; null where it names none. */
export function fingerprintInCredits(text: string): string | null {
  const found = CONTENT_LINE.exec(text)?.[1]
  return found !== undefined && isFingerprint(found) ? found : null
}

function fontLines(font: LicensedFont): string[] {
  const sizeBytes = font.files.reduce((sum, file) => sum + file.sizeBytes, 0)
  const version = font.version === '' ? '' : `, version ${oneLine(font.version)}`
  const kinds = [...new Set(font.licences.map((licence) => KIND_WORDS[licence.kind]))]
  const indent = ' '.repeat(5)
  return [
    `${String(font.slot).padStart(3)}. ${oneLine(font.name)}${version}`,
    `${indent}by ${font.creatorName === null ? 'a maker not on record' : oneLine(font.creatorName)}`,
    `${indent}folder ${font.folder}, ${font.files.length} files, ${inUnits(sizeBytes)}`,
    `${indent}licence: ${kinds.length === 0 ? 'none on record' : kinds.join(', ')}`,
  ]
}

/** A name as it may stand in a line of text. */
function oneLine(text: string): string {
  return text.replace(/\p{Cc}+/gu, ' ').trim()
}
