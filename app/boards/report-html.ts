import { SEVERITIES } from '../model/finding.ts'
import type { Finding, Verdict } from '../model/finding.ts'
import type { LimitInWords } from './board-words.ts'
import { creatorMend } from './creator-mends.ts'
import { htmlPage, htmlText } from './html-page.ts'
import { oneOrMore } from './in-words.ts'

/** One font of a report. */
export interface ReportedFont {
  readonly name: string
  readonly version: string
  readonly soundCount: number
  readonly verdict: Verdict
  readonly findings: readonly Finding[]
}

export interface Report {
  readonly boardTitle: string
  /** What the board accepts, in words. */
  readonly limits: readonly LimitInWords[]
  readonly fonts: readonly ReportedFont[]
  readonly toolVersion: string
}

const VERDICT_WORDS: Readonly<Record<Verdict['word'], string>> = {
  ready: 'plays as it is',
  fixable: 'plays once what is found below is mended',
  blocked: 'does not play: some of what is found below only its maker can mend',
  unrecognised: 'the names do not say what its sounds are for',
}

/** Findings about what an installer bought and for whom are none of a creator's business. */
const PRIVATE_RULE = /^(licence|config)-/

/**
 * A report as one self-contained page for a font's creator: no script, no picture, nothing fetched; made
 * to be printed. Mends are told for someone who has none of this program. It names no client and no path
 * of this computer: paths are those inside the font.
 */
export function reportHtml(report: Report): string {
  const title = `What ${report.boardTitle} makes of ${report.fonts.length === 1 ? (report.fonts[0]?.name ?? '') : `${report.fonts.length} fonts`}`
  return htmlPage({
    title,
    style: STYLE,
    main: [
      '<p>Every finding says what was measured, what the board takes, what happens on the board, and how to mend it.</p>',
      ...report.fonts.map(fontSection),
      '<section>',
      `<h2>What ${htmlText(report.boardTitle)} accepts</h2>`,
      '<ul>',
      ...report.limits
        // How the card is cut and what its config says is between the installer and the board.
        .filter(({ limit, known }) => known !== 'unknown' && !/^(card\.|config$)/.test(limit))
        .map(
          ({ words, known }) =>
            `<li>${htmlText(words)}${known === 'stated' ? '' : ` <i>(${htmlText(known)})</i>`}</li>`,
        ),
      '</ul>',
      '</section>',
    ],
    footer: `Cardwright ${htmlText(report.toolVersion)}`,
  })
}

function fontSection(font: ReportedFont): string {
  const findings = font.findings.filter((finding) => !PRIVATE_RULE.test(finding.rule))
  const version = font.version === '' ? '' : ` v${font.version}`
  const rows = findings.map((finding) => {
    const { severity, path, message, why } = finding
    return `<tr><td class="${severity}">${severity}</td><td class="path">${htmlText(path ?? 'the whole font')}</td><td>${htmlText(message)}</td><td>${htmlText(why)}</td><td>${htmlText(creatorMend(finding))}</td></tr>`
  })
  return [
    '<section>',
    `<h2>${htmlText(font.name + version)}</h2>`,
    `<p><b>${htmlText(VERDICT_WORDS[font.verdict.word])}</b>; ${[oneOrMore(font.soundCount, 'sound'), ...SEVERITIES.map((severity) => oneOrMore(countOf(findings, severity), severity))].join(', ')}.${unknownWords(font.verdict.unknownLimitCount)}</p>`,
    ...(rows.length === 0
      ? ['<p>Nothing was found.</p>']
      : [
          '<table>',
          '<thead><tr><th scope="col">Severity</th><th scope="col">Sound</th><th scope="col">What is so</th><th scope="col">What the board makes of it</th><th scope="col">How to mend it</th></tr></thead>',
          '<tbody>',
          ...rows,
          '</tbody>',
          '</table>',
        ]),
    '</section>',
  ].join('\n')
}

/** What nobody knows of the board judged nothing: the reader must know that it may still matter. */
function unknownWords(count: number): string {
  return count === 0
    ? ''
    : ` ${oneOrMore(count, 'limit')} of this board ${count === 1 ? 'is' : 'are'} not known, and judged nothing.`
}

function countOf(findings: readonly Finding[], severity: Finding['severity']): number {
  return findings.filter((finding) => finding.severity === severity).length
}

const STYLE = `
table { table-layout: fixed; }
th:nth-child(1) { width: 4.6rem; } th:nth-child(2) { width: 19%; } th:nth-child(3) { width: 28%; }
.error { font-weight: 700; } .note { color: var(--quiet); }
`.trim()
