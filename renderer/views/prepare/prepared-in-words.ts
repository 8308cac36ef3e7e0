import type { RequestOf, ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { RECIPE_CHOICE_NUMBERS, RECIPE_STEPS, type RecipeStepName } from '../../../app/model/recipe.ts'
import type { PreparedSoundRow, PrepareReport } from '../../hooks/use-preparing.ts'

export type KeptChoice = PrepareReport['choices'][number]
type Choice = NonNullable<RequestOf<'prepare:choose'>['choices']>[number]

/** Steps that a user can leave out or set; reading is no choice. */
export const CHOSEN_STEPS = RECIPE_STEPS.filter((step) => step !== 'decode')

export const STEP_NAMES: Readonly<Record<RecipeStepName, string>> = {
  decode: 'Reading',
  channels: 'Channels',
  'sample-rate': 'Sample rate',
  'remove-dc': 'DC removal',
  trim: 'Trimming',
  'repair-seam': 'Closing the loop',
  'high-pass': 'High-pass',
  gain: 'Gain',
  ceiling: 'Ceiling',
  'bit-depth': 'Bit depth',
  header: 'Plain header',
}

/** For whom a word on a step holds. */
export function scopeInWords({ role, path }: Pick<KeptChoice, 'role' | 'path'>): string {
  if (path !== null) return path
  return role === null ? 'the whole font' : `all ${role} sounds`
}

/** `Gain set to −3 dB`, `Trimming left out` */
export function wordInWords({ step, value }: Pick<KeptChoice, 'step' | 'value'>): string {
  const name = STEP_NAMES[step]
  if (value === null) return `${name} left out`
  return `${name} set to ${String(value).replace('-', '−')} ${RECIPE_CHOICE_NUMBERS[step]?.unit ?? ''}`.trim()
}

/** What is kept of a word, as a request names it. */
export function nameOfChoice({ step, role, path }: KeptChoice): Omit<Choice, 'value'> {
  return { step, ...(role === null ? {} : { role }), ...(path === null ? {} : { path }) }
}

/** Words that concern one sound, the narrowest of each step. */
export function choicesOfSound(
  choices: readonly KeptChoice[],
  { path, role }: Pick<PreparedSoundRow, 'path' | 'role'>,
): readonly KeptChoice[] {
  const found = new Map<RecipeStepName, KeptChoice>()
  const widestFirst = [
    choices.filter((choice) => choice.path === null && choice.role === null),
    choices.filter((choice) => choice.path === null && choice.role !== null && choice.role === role),
    choices.filter((choice) => choice.path === path),
  ]
  for (const choice of widestFirst.flat()) found.set(choice.step, choice)
  return [...found.values()]
}

export interface ChangeRow {
  readonly name: string
  readonly before: string
  /** Null where nothing is made, or nobody can tell yet. */
  readonly after: string | null
  readonly unit: string
}

type States = Pick<PreparedSoundRow, 'before' | 'after' | 'isLoop' | 'steps'> &
  Partial<Pick<PreparedSoundRow, 'foreseen'>>

/** A sound before and after, value by value; what a dry run only foresees comes without what must be measured. */
export function changeRows({ before, after, foreseen = null, isLoop, steps }: States): readonly ChangeRow[] {
  const then = after ?? foreseen
  const row = (
    name: string,
    was: number | null,
    is: number | null | undefined,
    unit: string,
    digits = 0,
  ): ChangeRow => ({
    name,
    before: fixed(was, digits),
    after: is === undefined ? null : fixed(is, digits),
    unit,
  })
  return [
    // A loop is judged as heard through the speaker; by its own level it may lie outside the band.
    row(isLoop ? 'Level, no speaker' : 'Level', before.levelLufs, then?.levelLufs, 'LUFS', 1),
    row('True peak', before.truePeakDbtp, after?.truePeakDbtp, 'dBTP', 1),
    row('Rate', before.sampleRateHz, then?.sampleRateHz, 'Hz'),
    row('Depth', before.bitDepth, then?.bitDepth, 'bit'),
    row('Channels', before.channels, then?.channels, ''),
    row('Length', before.seconds, then?.seconds, 's', 3),
    { name: 'Size', before: inUnits(before.sizeBytes), after: then && inUnits(then.sizeBytes), unit: '' },
    ...(steps.some(({ step }) => step === 'remove-dc')
      ? [row('DC', percent(before.dcOffset), percent(after?.dcOffset), '% of full scale', 2)]
      : []),
    ...(isLoop
      ? [
          row('Seam jump', before.jumpRatio, after?.jumpRatio, '× usual step', 1),
          row('Seam dip', before.dipDb, after?.dipDb, 'dB', 1),
        ]
      : []),
  ]
}

/** How the two takes of a sound are brought to one loudness. */
export function loudnessInWords(matched: ResponseOf<'sounds:prepared'>['matchedLoudness']): string {
  if (matched === null) return 'Not brought to one loudness: one of them has no level. Each is as it is.'
  const { originalGainDb, preparedGainDb } = matched
  const down = (gainDb: number) => `${(-gainDb).toFixed(1)} dB`
  if (originalGainDb < -0.05)
    return `Equally loud here: A is turned down by ${down(originalGainDb)}, B is as it is.`
  if (preparedGainDb < -0.05)
    return `Equally loud here: B is turned down by ${down(preparedGainDb)}, A is as it is.`
  return 'Equally loud as they are.'
}

/** How far the hums of several fonts lie apart; null with fewer than two. */
export function spreadInWords(report: PrepareReport): string | null {
  const { spreadBeforeLu, spreadAfterLu, allowedSpreadLu, dryRun } = report
  if (spreadBeforeLu === null || spreadAfterLu === null) return null
  const then = dryRun ? 'and would then differ' : 'and now'
  const allowed = allowedSpreadLu === null ? '' : ` The board allows ${allowedSpreadLu} LU.`
  return `Hums differ by ${spreadBeforeLu.toFixed(1)} LU, ${then} by ${spreadAfterLu.toFixed(1)} LU.${allowed}`
}

/** Through what loudness was judged. */
export function heardInWords({ speakerLowLimitHz }: Pick<PrepareReport, 'speakerLowLimitHz'>): string {
  return speakerLowLimitHz === null
    ? 'Hums are measured without a speaker, since none is known.'
    : `Hums are measured as heard through a speaker from ${speakerLowLimitHz} Hz.`
}

/** `Sounds: 12 would be made, 3 left as they are.` */
export function countsInWords({
  counts,
  dryRun,
}: Pick<PrepareReport, 'counts'> & { readonly dryRun?: boolean }): string {
  const parts: readonly (readonly [number, string])[] = [
    [counts.planned, 'would be made'],
    [counts.made, 'made'],
    [counts.kept, 'made before'],
    [counts.unchanged, counts.unchanged === 1 ? 'left as it is' : 'left as they are'],
    [counts.failed, dryRun === true ? 'cannot be made' : 'failed'],
  ]
  const told = parts.filter(([count]) => count > 0).map(([count, words]) => `${count} ${words}`)
  return told.length === 0 ? 'No sounds.' : `Sounds: ${told.join(', ')}.`
}

function percent<T extends number | null | undefined>(share: T): T | number {
  return typeof share === 'number' ? share * 100 : share
}

/** A dash where nobody knows; no minus before a zero. */
function fixed(value: number | null, digits: number): string {
  if (value === null) return '–'
  const text = value.toFixed(digits)
  return Number(text) === 0 ? (0).toFixed(digits) : text.replace('-', '−')
}
