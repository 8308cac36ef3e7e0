import type { ResponseOf } from '../../contract/calls.ts'
import { evennessPicture } from '../../model/evenness-picture.ts'
import { escaped, evennessSvg } from './evenness-picture.ts'
import { changeWords } from './step-words.ts'

type Report = ResponseOf<'prepare'>
type FontRow = Report['fonts'][number]

const STYLE = `body{font:15px/1.5 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#1c1c1a;background:#fdfcf9}
table{border-collapse:collapse;width:100%;font-size:14px}th,td{text-align:left;vertical-align:top;padding:.3rem .6rem .3rem 0;border-bottom:1px solid #ddd8cc}
svg{width:100%;height:auto}h2{margin-top:2.5rem}.still{color:#8a2a17}.key{color:#55534d}
@media (prefers-color-scheme:dark){body{color:#e8e6df;background:#1a1a18}td,th{border-color:#3c3a34}.still{color:#f0a08c}.key{color:#b5b2a7}}`

/** One self-contained page: all fonts before and after in one picture, and each sound with its recipe. */
export function preparingPage(report: Report): string {
  const title = `Prepared for ${report.boardTitle}`
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    `<title>${escaped(title)}</title>`,
    `<style>${STYLE}</style>`,
    '</head>',
    '<body>',
    `<h1>${escaped(title)}</h1>`,
    ...[...report.cautions, ...(report.fallBack === null ? [] : [report.fallBack])].map(
      (caution) => `<p><strong>${escaped(caution)}</strong></p>`,
    ),
    evennessSvg(evennessPicture(report.fonts, report.humBand)),
    `<p class="key">Ring: hum before. Disc: hum after. Strokes: effects, above before, below after. Shaded: the board's band for hums.${heard(report)}</p>`,
    `<p>${escaped(spreadWords(report))}</p>`,
    ...report.fonts.flatMap(fontSection),
    '</body>',
    '</html>',
    '',
  ].join('\n')
}

function heard({ speakerLowLimitHz }: Report): string {
  return speakerLowLimitHz === null
    ? ' Hums are measured without a speaker, since its low limit is not known.'
    : ` Hums are as heard through a speaker from ${speakerLowLimitHz} Hz.`
}

function spreadWords({ spreadBeforeLu, spreadAfterLu, allowedSpreadLu }: Report): string {
  if (spreadBeforeLu === null || spreadAfterLu === null) return ''
  const allowed = allowedSpreadLu === null ? '' : ` The board allows ${allowedSpreadLu} LU.`
  return `Hums differ by ${spreadAfterLu.toFixed(1)} LU, before by ${spreadBeforeLu.toFixed(1)} LU.${allowed}`
}

function fontSection(font: FontRow): readonly string[] {
  return [
    `<h2>${escaped(font.version === '' ? font.font : `${font.font} ${font.version}`)}</h2>`,
    ...(font.gainDb === null ? [] : [`<p>One gain for the whole font: ${signed(font.gainDb)} dB.</p>`]),
    ...font.told.map((sentence) => `<p>${escaped(sentence)}</p>`),
    '<table><thead><tr><th>Sound</th><th>What was wrong</th><th>What was done</th><th>Before → after</th></tr></thead><tbody>',
    ...font.sounds.map(
      (sound) =>
        `<tr><td>${escaped(sound.path)}</td><td>${lines(sound.wrong)}</td><td>${lines([
          ...sound.steps.map(({ inWords }) => inWords).filter((words) => words !== ''),
          ...sound.told,
          ...(sound.problem === null ? [] : [sound.problem.message]),
        ])}</td><td>${lines(changeWords(sound))}</td></tr>`,
    ),
    '</tbody></table>',
    ...font.stillWrong.map(
      ({ path, message }) =>
        `<p class="still">Still so: ${escaped(path === null ? message : `${path}: ${message}`)}</p>`,
    ),
  ]
}

function lines(sentences: readonly string[]): string {
  return sentences.map(escaped).join('<br>')
}

function signed(db: number): string {
  return `${db > 0 ? '+' : '−'}${Math.abs(db).toFixed(1)}`
}
