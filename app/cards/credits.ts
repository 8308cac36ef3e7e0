import type { LendingFont, LicenceRecord, LicensedFont } from '../model/licence-record.ts'
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
    ...lenderLines(record.lenders ?? []),
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

const INDENT = ' '.repeat(5)

function fontLines(font: LicensedFont): string[] {
  const sizeBytes = font.files.reduce((sum, file) => sum + file.sizeBytes, 0)
  return [
    `${String(font.slot).padStart(3)}. ${titleOf(font)}`,
    `${INDENT}${makerOf(font)}`,
    `${INDENT}folder ${font.folder}, ${font.files.length} files, ${inUnits(sizeBytes)}`,
    `${INDENT}${licenceOf(font)}`,
  ]
}

/** Fonts of which single sounds play in those above, each with the sounds. */
function lenderLines(lenders: readonly LendingFont[]): string[] {
  if (lenders.length === 0) return []
  return [
    'Single sounds of other fonts, played in those above',
    ...lenders.flatMap((font) => [
      `${INDENT}${titleOf(font)}`,
      `${INDENT}${makerOf(font)}`,
      ...font.files.map(({ path }) => `${INDENT}file ${path}`),
      `${INDENT}${licenceOf(font)}`,
      '',
    ]),
  ]
}

function titleOf({ name, version }: LendingFont): string {
  return `${oneLine(name)}${version === '' ? '' : `, version ${oneLine(version)}`}`
}

function makerOf({ creatorName }: LendingFont): string {
  return `by ${creatorName === null ? 'a maker not on record' : oneLine(creatorName)}`
}

function licenceOf({ licences }: LendingFont): string {
  const kinds = [...new Set(licences.map((licence) => KIND_WORDS[licence.kind]))]
  return `licence: ${kinds.length === 0 ? 'none on record' : kinds.join(', ')}`
}

/** A name as it may stand in a line of text. */
function oneLine(text: string): string {
  return text.replace(/\p{Cc}+/gu, ' ').trim()
}
