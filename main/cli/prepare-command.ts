import { join } from 'node:path'
import { InvalidArgumentError, Option, type Command } from 'commander'
import { nearestWord } from '../../app/boards/edit-distance.ts'
import { verdictWords } from '../../app/boards/verdict-words.ts'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { RECIPE_CHOICE_NUMBERS, RECIPE_STEPS, type RecipeStepName } from '../../app/model/recipe.ts'
import { ROLES, type Role } from '../../app/model/role.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import {
  countsInWords,
  notMended,
  soundsWithoutRole,
  spreadInWords,
  WITHOUT_ROLE,
  wordsOnSteps,
} from '../../app/usecases/prepare/report-words.ts'
import { changeWords } from '../../app/usecases/prepare/step-words.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { cautionLines } from './caution-lines.ts'
import { examples } from './examples.ts'
import { readLowLimitHz } from './low-limit-option.ts'
import { printable } from './printable.ts'
import type { Ask, Session } from './session.ts'
import { table } from './table.ts'

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
    .option('--dry-run', 'tell what would be done; makes nothing, writes no folder, keeps no word on a step')
    .option('--report <file>', 'write a page (HTML) with all fonts before and after')
    .addOption(
      new Option(
        '--speaker <hz>',
        "the speaker's lowest frequency, or `none`; the build's or the workshop's usual one unless told",
      ).argParser(readSpeaker),
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
        `Steps that can be left out: ${CHOSEN_STEPS.slice(0, 5).join(', ')},`,
        `${CHOSEN_STEPS.slice(5).join(', ')}.`,
        'Steps with a number to set:',
        ...Object.entries(RECIPE_CHOICE_NUMBERS).map(
          ([step, { unit, least, most }]) => `  ${step.padEnd(9)}  ${least} to ${most} ${unit}`,
        ),
      ].join('\n'),
    )
    .action((words: string[], options: PrepareOptions) =>
      session.withCore(async (ask) => {
        const choices = [...options.drop, ...options.set]
        const selection = await selectionOf(ask, words, options)
        const into = options.into === undefined ? undefined : session.resolvePath(options.into)
        const page = options.report === undefined ? undefined : session.resolvePath(options.report)
        for (const line of await nothingForgotten(ask, selection, options.forget)) session.say(line)
        const report = await ask('prepare', {
          ...selection,
          ...(options.speaker === undefined ? {} : { speakerLowLimitHz: options.speaker }),
          ...(options.dryRun === true ? { dryRun: true } : {}),
          ...(into === undefined ? {} : { into }),
          ...(page === undefined ? {} : { reportPath: page }),
          ...(choices.length === 0 ? {} : { choices }),
          ...(options.forget.length === 0 ? {} : { forget: options.forget }),
          ...(options.reset === true ? { resetChoices: true } : {}),
        })
        if (page !== undefined) session.say(printable(`The page with all fonts is ${page}.`))
        return { document: report, text: prepareText(report, into), holds: prepareHolds(report, into) }
      }),
    )
}

function readSpeaker(text: string): number | null {
  return text === 'none' ? null : readLowLimitHz(text, ', or is `none`')
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

/** Reading is no choice. */
const CHOSEN_STEPS = RECIPE_STEPS.filter((step) => step !== 'decode')

function readStep(text: string): RecipeStepName {
  const step = RECIPE_STEPS.find((each) => each === text)
  if (step !== undefined) return step
  const nearest = nearestWord(text, CHOSEN_STEPS)
  throw new InvalidArgumentError(
    nearest === null ? `The steps are ${CHOSEN_STEPS.join(', ')}.` : `Did you mean "${nearest}"?`,
  )
}

/** A line for each word to be taken back that is not kept: nothing comes of it. */
async function nothingForgotten(
  ask: Ask,
  selection: RequestOf<'prepare:choices'>,
  forget: readonly ChoiceName[],
): Promise<readonly string[]> {
  if (forget.length === 0) return []
  const { choices } = await ask('prepare:choices', selection)
  return forget
    .filter(
      ({ step, role, path }) =>
        !choices.some(
          (kept) => kept.step === step && kept.role === (role ?? null) && kept.path === (path ?? null),
        ),
    )
    .map(({ step, role, path }) => {
      const scope = path ?? role
      return printable(
        `Note: no word on ${step}${scope === undefined ? '' : ` for ${scope}`} is kept; nothing to take back.`,
      )
    })
}

/** Every sound could be made, the board now plays every font, and each was written where that was asked for. */
function prepareHolds({ fonts, dryRun }: ResponseOf<'prepare'>, into: string | undefined): boolean {
  return fonts.every(
    ({ sounds, verdictAfter, verdictBefore, folder }) =>
      sounds.every(({ state }) => state !== 'failed') &&
      (dryRun || into === undefined || folder !== null) &&
      (dryRun ? verdictBefore.word !== 'blocked' : verdictAfter.errorCount === 0),
  )
}

/**
 * The table of what was wrong, what was done, and before and after; then what is still so.
 * @param into folder that the fonts were written to; empty where they were not
 */
export function prepareText(report: ResponseOf<'prepare'>, into = ''): string {
  const words = wordsOnSteps(report)
  const spread = spreadInWords(report)
  return [
    ...report.fonts.flatMap((font) => [...fontText(font, report.dryRun, into), '']),
    ...(words.length === 0
      ? []
      : [
          'Your words on steps (--forget takes one back):',
          ...words.map((word) => printable(`  ${word}`)),
          '',
        ]),
    ...(spread === null ? [] : [spread]),
    countsInWords(report),
    ...(report.fallBack === null ? [] : [report.fallBack]),
    ...cautionLines(report),
  ].join('\n')
}

function fontText(font: FontRow, isDryRun: boolean, into: string): readonly string[] {
  const rows = font.sounds.filter(({ state, told }) => state !== 'unchanged' || told.length > 0)
  const gain =
    font.gainDb === null
      ? ''
      : `, ${font.gainDb > 0 ? '+' : ''}${font.gainDb.toFixed(1)} dB for the whole font`
  const verdict = verdictWords(isDryRun ? font.verdictBefore : font.verdictAfter)
  const heads = isDryRun ? ['what is wrong', 'what would be done'] : ['what was wrong', 'what was done']
  const withoutRole = soundsWithoutRole(font)
  return [
    printable(`${fontTitle(font.font, font.version)}${isDryRun ? ', as it came' : ''}: ${verdict}${gain}`),
    ...(rows.length === 0 ? [] : [table(['sound', ...heads, 'before → after'], rows.flatMap(soundRows))]),
    ...(withoutRole.length === 0
      ? []
      : [
          printable(
            `  Role not known: ${withoutRole.map(({ path }) => path).join(', ')}. ${WITHOUT_ROLE} \`roles FONT\` shows guesses and takes yours.`,
          ),
        ]),
    ...font.told.map((sentence) => printable(`  ${sentence}`)),
    ...notMended(font, isDryRun).map(({ path, message }) =>
      printable(
        `  ${isDryRun ? 'Would stay so' : 'Still so'}: ${path === null ? '' : `${path}: `}${message}`,
      ),
    ),
    ...(font.folder === null ? [] : [printable(`  Written as ${join(into, font.folder)}`)]),
  ]
}

/** Steps in one line, then a sentence a line; of a sound that could not be made only why, for nothing was done. */
function linesOfDone({ steps, told, problem }: FontRow['sounds'][number]): readonly string[] {
  if (problem !== null) return [`Not made: ${problem.message}`]
  const words = steps.map(({ inWords }) => inWords).filter((inWords) => inWords !== '')
  // As numbers are written everywhere on the command line.
  return [words.join(', ').replaceAll('−', '-'), ...told].filter((line) => line !== '')
}

/** One line a sentence, so that no cell needs wrapping. */
function soundRows(sound: FontRow['sounds'][number]): readonly (readonly (string | null)[])[] {
  const done = linesOfDone(sound)
  const changed = changeWords(sound).join(', ')
  const wrong = sound.steps
    .map(({ rule }) => (rule === 'user' ? 'your word' : rule))
    .filter((rule, index, all) => all.indexOf(rule) === index)
    .join(', ')
  return Array.from({ length: Math.max(1, done.length) }, (_, line) => [
    line === 0 ? sound.path : '',
    line === 0 ? wrong : '',
    done[line] ?? '',
    line === 0 ? changed : '',
  ])
}
