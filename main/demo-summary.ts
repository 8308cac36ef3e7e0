import { verdictWords } from '../app/boards/verdict-words.ts'
import type { ResponseOf } from '../app/contract/calls.ts'
import { inUnits } from '../app/model/in-units.ts'
import { fontTitle } from '../app/usecases/find-font.ts'
import { printable } from './cli/printable.ts'
import { counted, table } from './cli/table.ts'

const MOST_REASONS = 3

/** What the demo's main job came to, for people: verdicts, the card, and what the other fonts wait for. */
export function demoSummary({ fonts, make, waiting }: ResponseOf<'demo:prepare'>): string {
  const findings = fonts.reduce((sum, font) => sum + font.findings.length, 0)
  const lines = [
    `${counted(fonts.length, 'font')}, ${counted(findings, 'finding')} for ${make.board}:`,
    table(
      ['font', 'verdict', 'notes', 'on the card'],
      fonts.map((font) => [
        fontTitle(font.font, font.version),
        verdictWords(font.verdict),
        font.verdict.noteCount,
        make.fonts.find((each) => each.font === font.font)?.folder ?? null,
      ]),
    ),
    '',
    `Card${make.build === null ? '' : ` of build ${make.build}`}: ${counted(make.fonts.length, 'font')}, ${make.size.usedBytes} bytes used (${inUnits(make.size.usedBytes)}), ${inUnits(make.size.freeBytes)} free.`,
    `Image        ${make.imagePath} (${inUnits(make.imageBytes)})`,
    `Fingerprint  ${make.fingerprint}`,
    make.verified
      ? `verified: ${counted(make.verify.filesChecked, 'file')} read back, every hash as recorded`
      : 'NOT verified: what was read back differs from what was to be written',
  ]
  if (waiting.length > 0) lines.push('', 'Not on this card, and what they wait for:')
  for (const font of waiting) {
    lines.push(`  ${font.font} (${font.verdict})`)
    const shown = font.reasons.slice(0, MOST_REASONS)
    lines.push(...shown.map((reason) => `    - ${reason}`))
    const more = font.reasons.length - shown.length
    if (more > 0) lines.push(`    - and ${more} more: npm run cardwright -- check "${font.font}"`)
    if (font.reasons.length === 0) lines.push('    - nothing: it was left out by choice')
  }
  return lines.map((line) => (line.includes('\n') ? line : printable(line))).join('\n')
}
