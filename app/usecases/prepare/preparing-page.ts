import { htmlPage, htmlText } from '../../boards/html-page.ts'
import { listed, oneOrMore } from '../../boards/in-words.ts'
import { verdictWords } from '../../boards/verdict-words.ts'
import type { ResponseOf } from '../../contract/calls.ts'
import { evennessPicture } from '../../model/evenness-picture.ts'
import { fontTitle } from '../find-font.ts'
import { evennessSvg } from './evenness-picture.ts'
import {
  countsInWords,
  heardInWords,
  notMended,
  soundsWithoutRole,
  spreadInWords,
  WITHOUT_ROLE,
  wordsOnSteps,
} from './report-words.ts'
import { changeWords } from './step-words.ts'

type Report = ResponseOf<'prepare'>
type FontRow = Report['fonts'][number]
type SoundRow = FontRow['sounds'][number]

const STYLE = `
figure { margin: 1.5rem 0; } svg { width: 100%; height: auto; } .still { color: var(--bad); } .key { color: var(--quiet); }
.fonts td { font-variant-numeric: tabular-nums; } .sounds { table-layout: fixed; } .sounds th:first-child { width: 18%; } .sounds th:last-child { width: 22%; }
`.trim()

/**
 * What preparing came to, or would, as one self-contained page: all fonts before and after in one picture
 * and in numbers, then each sound with what was wrong and what was done.
 */
export function preparingPage(report: Report): string {
  const { fonts, dryRun, boardTitle, cautions, fallBack } = report
  const words = wordsOnSteps(report)
  return htmlPage({
    title: dryRun ? `What preparing for ${boardTitle} would do` : `Prepared for ${boardTitle}`,
    style: STYLE,
    main: [
      `<p>${htmlText(countsInWords(report))}</p>`,
      ...cautions.map((caution) => `<p><strong>Caution:</strong> ${htmlText(caution)}</p>`),
      ...(fallBack === null ? [] : [`<p>${htmlText(fallBack)}</p>`]),
      ...evenness(report),
      fontTable(fonts, dryRun),
      ...(words.length === 0
        ? []
        : [
            '<h2>Your words on steps</h2>',
            '<ul>',
            ...words.map((word) => `<li>${inPage(word)}</li>`),
            '</ul>',
          ]),
      ...fonts.map((font, index) => fontSection(font, index, dryRun)),
    ],
    footer: htmlText(report.tools),
  })
}

function evenness(report: Report): readonly string[] {
  const { fonts, humBand, dryRun } = report
  const spread = spreadInWords(report)
  const label = `Loudness of ${oneOrMore(fonts.length, 'font')} before and after; the hums are in the table below.`
  const heard = spread === null ? ` Hums are ${heardInWords(report)}.` : ''
  const band = humBand === null ? '' : " Shaded: the board's band for hums."
  return [
    '<figure>',
    evennessSvg(evennessPicture(fonts, humBand), label),
    '<figcaption>',
    ...(spread === null ? [] : [`<p>${htmlText(spread)}</p>`]),
    `<p class="key">Ring: the hum before. Disc: the hum ${dryRun ? 'as it would be' : 'after'}. Strokes: effects, above the line before, below it after.${band}${htmlText(heard)}</p>`,
    '</figcaption>',
    '</figure>',
  ]
}

function fontTable(fonts: readonly FontRow[], isDryRun: boolean): string {
  const heads = isDryRun
    ? ['Font', 'Verdict as it came', 'Hum now, LUFS', 'Hum then, LUFS', 'Gain, dB']
    : ['Font', 'Verdict before', 'Verdict now', 'Hum before, LUFS', 'Hum now, LUFS', 'Gain, dB']
  const rows = fonts.map((font) => {
    const cells = [
      verdictWords(font.verdictBefore),
      ...(isDryRun ? [] : [verdictWords(font.verdictAfter)]),
      level(font.humBeforeLufs),
      level(font.humAfterLufs),
      font.gainDb === null ? '–' : signed(font.gainDb),
    ]
    return `<tr><th scope="row">${htmlText(fontTitle(font.font, font.version))}</th>${cells.map((cell) => `<td>${inPage(cell)}</td>`).join('')}</tr>`
  })
  return [`<table class="fonts">`, headRow(heads), '<tbody>', ...rows, '</tbody>', '</table>'].join('\n')
}

function fontSection(font: FontRow, index: number, isDryRun: boolean): string {
  const heading = `font-${index + 1}`
  const isWorked = ({ state, wrong, told }: SoundRow) =>
    state !== 'unchanged' || wrong.length + told.length > 0
  const withRole = font.sounds.filter(({ role }) => role !== null)
  const worked = withRole.filter(isWorked)
  const idle = withRole.filter((sound) => !isWorked(sound))
  return [
    '<section>',
    `<h2 id="${heading}">${htmlText(fontTitle(font.font, font.version))}</h2>`,
    ...(font.gainDb === null
      ? []
      : [`<p>One gain for the whole font, from its hums: ${signed(font.gainDb)} dB.</p>`]),
    ...font.told.map((sentence) => `<p>${htmlText(sentence)}</p>`),
    ...(worked.length === 0 ? [] : [soundTable(worked, heading, isDryRun)]),
    ...namedSounds(`Right as ${idle.length === 1 ? 'it is' : 'they are'}`, idle),
    ...namedSounds('Role not known', soundsWithoutRole(font), WITHOUT_ROLE),
    ...notMended(font, isDryRun).map(
      ({ path, message }) =>
        `<p class="still">${isDryRun ? 'Would stay so' : 'Still so'}: ${path === null ? '' : `${htmlText(path)}: `}${inPage(message)}</p>`,
    ),
    '</section>',
  ].join('\n')
}

function namedSounds(
  head: string,
  sounds: readonly { readonly path: string }[],
  tail = '',
): readonly string[] {
  if (sounds.length === 0) return []
  const paths = listed(
    sounds.map(({ path }) => path),
    'and',
  )
  return [
    `<p>${head}: <span class="path">${htmlText(paths)}</span>${tail === '' ? '' : `. ${htmlText(tail)}`}</p>`,
  ]
}

function soundTable(sounds: readonly SoundRow[], heading: string, isDryRun: boolean): string {
  const rows = sounds.map((sound) => {
    const cells = [sound.wrong, doneTo(sound), changeWords(sound)]
    return `<tr><th scope="row" class="path">${htmlText(sound.path)}</th>${cells.map((cell) => `<td>${lines(cell)}</td>`).join('')}</tr>`
  })
  const heads = [
    'Sound',
    isDryRun ? 'What is wrong' : 'What was wrong',
    isDryRun ? 'What would be done' : 'What was done',
    'Before → after',
  ]
  return [
    `<table class="sounds" aria-labelledby="${heading}">`,
    headRow(heads),
    '<tbody>',
    ...rows,
    '</tbody>',
    '</table>',
  ].join('\n')
}

/** What was done to a sound, or would be, a sentence a line. */
function doneTo({ steps, told, problem, state }: SoundRow): readonly string[] {
  if (problem !== null) return [`Not made: ${problem.message}`]
  if (state === 'unchanged') return ['Left as it is.', ...told]
  return [...steps.map(({ inWords }) => inWords).filter((words) => words !== ''), ...told]
}

function headRow(heads: readonly string[]): string {
  return `<thead><tr>${heads.map((head) => `<th scope="col">${head}</th>`).join('')}</tr></thead>`
}

function lines(sentences: readonly string[]): string {
  return sentences.map(inPage).join('<br>')
}

/** A sentence with true minus signs, as numbers in a page have them. */
function inPage(sentence: string): string {
  return htmlText(sentence.replace(/(?<![\w.-])-(?=\d)/g, '−'))
}

function level(lufs: number | null): string {
  return lufs === null ? '–' : lufs.toFixed(1)
}

function signed(db: number): string {
  const text = Math.abs(db).toFixed(1)
  if (Number(text) === 0) return text
  return `${db > 0 ? '+' : '−'}${text}`
}
