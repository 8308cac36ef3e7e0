import { InvalidArgumentError, Option, type Command } from 'commander'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { RECIPE_CHOICE_NUMBERS, RECIPE_STEPS, type RecipeStepName } from '../../app/model/recipe.ts'
import { ROLES, type Role } from '../../app/model/role.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { changeWords } from '../../app/usecases/prepare/step-words.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { cautionLines } from './caution-lines.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'
import { verdictWords } from './verdict-words.ts'

type Choice = NonNullable<RequestOf<'prepare'>['choices']>[number]
type ChoiceName = NonNullable<RequestOf<'prepare'>['forget']>[number]
type FontRow = ResponseOf<'prepare'>['fonts'][number]

interface PrepareOptions extends FontChoice {
  readonly into?: string
  readonly dryRun?: boolean
  readonly report?: string
  readonly speaker?: number | null
  readonly drop: readonly Choice[]
  readonly set: readonly Choice[]
  readonly forget: readonly ChoiceName[]
  readonly reset?: boolean
}

export function registerPrepare(program: Command, session: Session): void {
  withFontChoice(
    program
      .command('prepare')
      .description('make the sounds of fonts right for a board; the originals stay as they are'),
  )
    .option('--into <dir>', 'also write each prepared font there as a folder, named as the board wants')
    .option('--dry-run', 'tell what would be done, and make nothing')
    .option('--report <file>', 'write a page (HTML) with all fonts before and after')
    .addOption(
      new Option('--speaker <hz>', "the speaker's lowest frequency, or `none`; else the build's").argParser(
        readSpeaker,
      ),
    )
    .addOption(
      new Option('--drop <step[:role|:path]>', 'leave a step out, for the font, a role or a sound; kept')
        .argParser(collectDrop)
        .default([], 'none'),
    )
    .addOption(
      new Option('--set <step=number[:role|:path]>', 'set the number of a step; kept')
        .argParser(collectSet)
        .default([], 'none'),
    )
    .addOption(
      new Option('--forget <step[:role|:path]>', 'take back what --drop or --set said of a step')
        .argParser(collectForget)
        .default([], 'none'),
    )
    .option('--reset', 'forget what --drop and --set have said about these fonts before')
    .addHelpText(
      'after',
      [
        examples(
          'prepare "Ember Loom" --board bench-44 --dry-run',
          'prepare --build EX-101 --report prepared.html',
          'prepare "Ember Loom" --board bench-44 --drop trim:clash --set gain=-3',
        ),
        '',
        `Steps: ${RECIPE_STEPS.join(', ')}.`,
        `Numbers: ${Object.entries(RECIPE_CHOICE_NUMBERS)
          .map(([step, range]) => `${step} (${range?.unit ?? ''})`)
          .join(', ')}.`,
      ].join('\n'),
    )
    .action((words: string[], options: PrepareOptions) =>
      session.withCore(async (ask) => {
        const choices = [...options.drop, ...options.set]
        const report = await ask('prepare', {
          ...(await selectionOf(ask, words, options)),
          ...(options.speaker === undefined ? {} : { speakerLowLimitHz: options.speaker }),
          ...(options.dryRun === true ? { dryRun: true } : {}),
          ...(options.into === undefined ? {} : { into: session.resolvePath(options.into) }),
          ...(options.report === undefined ? {} : { reportPath: session.resolvePath(options.report) }),
          ...(choices.length === 0 ? {} : { choices }),
          ...(options.forget.length === 0 ? {} : { forget: options.forget }),
          ...(options.reset === true ? { resetChoices: true } : {}),
        })
        return { document: report, text: prepareText(report), holds: prepareHolds(report) }
      }),
    )
}

function readSpeaker(text: string): number | null {
  if (text === 'none') return null
  const hz = Number(text)
  if (!(hz >= 20 && hz <= 20_000)) throw new InvalidArgumentError('Write it in Hz, 20 to 20000, or `none`.')
  return hz
}

function collectDrop(text: string, earlier: readonly Choice[]): readonly Choice[] {
  const { head, scope } = scopedWord(text)
  return [...earlier, { step: readStep(head), value: null, ...scope }]
}

function collectSet(text: string, earlier: readonly Choice[]): readonly Choice[] {
  const { head, scope } = scopedWord(text)
  const at = head.indexOf('=')
  const value = at < 0 ? NaN : Number(head.slice(at + 1))
  if (!Number.isFinite(value)) throw new InvalidArgumentError('Write it as STEP=NUMBER, such as gain=-3.')
  return [...earlier, { step: readStep(head.slice(0, at)), value, ...scope }]
}

function collectForget(text: string, earlier: readonly ChoiceName[]): readonly ChoiceName[] {
  const { head, scope } = scopedWord(text)
  return [...earlier, { step: readStep(head), ...scope }]
}

/** What stands before the colon, and for whom it holds: a role, or a sound's path. */
function scopedWord(text: string): { head: string; scope: { role?: Role; path?: string } } {
  const at = text.indexOf(':')
  if (at < 0) return { head: text, scope: {} }
  const word = text.slice(at + 1)
  const role = ROLES.find((each) => each === word)
  return { head: text.slice(0, at), scope: role === undefined ? { path: word } : { role } }
}

function readStep(text: string): RecipeStepName {
  const step = RECIPE_STEPS.find((each) => each === text)
  if (step === undefined) throw new InvalidArgumentError(`The steps are ${RECIPE_STEPS.join(', ')}.`)
  return step
}

/** Every sound could be made, and the board now plays every font. */
function prepareHolds({ fonts, dryRun }: ResponseOf<'prepare'>): boolean {
  return fonts.every(
    ({ sounds, verdictAfter, verdictBefore }) =>
      sounds.every(({ state }) => state !== 'failed') &&
      (dryRun ? verdictBefore.word !== 'blocked' : verdictAfter.errorCount === 0),
  )
}

/** The table of what was wrong, what was done, and before and after; then what is still so. */
export function prepareText(report: ResponseOf<'prepare'>): string {
  const { counts } = report
  const parts = [
    counts.made > 0 ? `${counts.made} made` : '',
    counts.kept > 0 ? `${counts.kept} made before` : '',
    counts.planned > 0 ? `${counts.planned} would be made` : '',
    counts.unchanged > 0 ? `${counts.unchanged} left as they are` : '',
    counts.failed > 0 ? `${counts.failed} failed` : '',
  ].filter((part) => part !== '')
  return [
    ...report.fonts.flatMap((font) => [...fontText(font, report.dryRun), '']),
    ...ownWords(report),
    ...evenness(report),
    `Sounds for ${report.board}: ${parts.length === 0 ? 'none' : parts.join(', ')}.`,
    ...(report.fallBack === null ? [] : [report.fallBack]),
    ...cautionLines(report),
  ].join('\n')
}

function fontText(font: FontRow, isDryRun: boolean): readonly string[] {
  const rows = font.sounds.filter(({ state, told }) => state !== 'unchanged' || told.length > 0)
  const gain =
    font.gainDb === null
      ? ''
      : `, ${font.gainDb > 0 ? '+' : ''}${font.gainDb.toFixed(1)} dB for the whole font`
  const verdict = isDryRun ? font.verdictBefore : font.verdictAfter
  return [
    printable(`${fontTitle(font.font, font.version)}: ${verdictWords(verdict)}${gain}`),
    ...(rows.length === 0
      ? []
      : [table(['sound', 'what was wrong', 'what was done', 'before → after'], rows.flatMap(soundRows))]),
    ...font.told.map((sentence) => printable(`  ${sentence}`)),
    ...font.stillWrong
      .filter(() => !isDryRun)
      .map(({ path, message }) => printable(`  Still so: ${path === null ? '' : `${path}: `}${message}`)),
    ...(font.folder === null ? [] : [printable(`  Written as ${font.folder}`)]),
  ]
}

/** One line a sentence, so that no cell needs wrapping. */
function soundRows(sound: FontRow['sounds'][number]): readonly (readonly (string | null)[])[] {
  const done = [
    sound.steps
      .map(({ inWords }) => inWords)
      .filter((words) => words !== '')
      .join(', '),
    ...sound.told,
    ...(sound.problem === null ? [] : [sound.problem.message]),
  ].filter((line) => line !== '')
  const changed = changeWords(sound).join(', ')
  const wrong = sound.steps
    .map(({ rule }) => rule)
    .filter((rule, index, all) => all.indexOf(rule) === index)
    .join(', ')
  return Array.from({ length: Math.max(1, done.length) }, (_, line) => [
    line === 0 ? sound.path : '',
    line === 0 ? wrong : '',
    done[line] ?? '',
    line === 0 ? changed : '',
  ])
}

/** What the user said of steps, as it was followed. */
function ownWords({ choices, fonts }: ResponseOf<'prepare'>): readonly string[] {
  if (choices.length === 0) return []
  const nameOf = (editionId: string) => {
    const font = fonts.find((each) => each.editionId === editionId)
    return font === undefined ? '' : fontTitle(font.font, font.version)
  }
  return [
    'Your words on steps (--forget takes one back):',
    ...choices.map(({ editionId, step, value, role, path }) => {
      const scope = path ?? role
      const word = value === null ? `${step} left out` : `${step} set to ${value}`
      return printable(`  ${nameOf(editionId)}${scope === null ? '' : `, ${scope}`}: ${word}`)
    }),
    '',
  ]
}

function evenness({
  spreadBeforeLu,
  spreadAfterLu,
  allowedSpreadLu,
  speakerLowLimitHz,
}: ResponseOf<'prepare'>): readonly string[] {
  if (spreadBeforeLu === null || spreadAfterLu === null) return []
  const allowed = allowedSpreadLu === null ? '' : ` (the board allows ${allowedSpreadLu})`
  const heard =
    speakerLowLimitHz === null
      ? 'measured without a speaker'
      : `as heard through a speaker from ${speakerLowLimitHz} Hz`
  return [
    `Hums of these fonts differ by ${spreadBeforeLu.toFixed(1)} → ${spreadAfterLu.toFixed(1)} LU${allowed}, ${heard}.`,
  ]
}
