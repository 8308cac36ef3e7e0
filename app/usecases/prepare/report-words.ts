import type { ResponseOf } from '../../contract/calls.ts'
import { RECIPE_CHOICE_NUMBERS } from '../../model/recipe.ts'
import { fontTitle } from '../find-font.ts'

type Report = ResponseOf<'prepare'>
type FontRow = Report['fonts'][number]

/** `Sounds for bench-44: 12 made, 1 left as it is.` */
export function countsInWords({ board, counts }: Pick<Report, 'board' | 'counts'>): string {
  const parts: readonly (readonly [count: number, words: string])[] = [
    [counts.made, 'made'],
    [counts.kept, 'made before'],
    [counts.planned, 'would be made'],
    [counts.unchanged, counts.unchanged === 1 ? 'left as it is' : 'left as they are'],
    [counts.failed, 'failed'],
  ]
  const told = parts.filter(([count]) => count > 0).map(([count, words]) => `${count} ${words}`)
  return `Sounds for ${board}: ${told.length === 0 ? 'none' : told.join(', ')}.`
}

type Spread = Pick<
  Report,
  'spreadBeforeLu' | 'spreadAfterLu' | 'allowedSpreadLu' | 'speakerLowLimitHz' | 'dryRun'
>

/** How far the hums of several fonts lie apart, in LU, and as heard through what; null with fewer than two. */
export function spreadInWords(report: Spread): string | null {
  const { spreadBeforeLu, spreadAfterLu, allowedSpreadLu, dryRun } = report
  if (spreadBeforeLu === null || spreadAfterLu === null) return null
  const then = dryRun ? 'would then differ' : 'now differ'
  const allowed = allowedSpreadLu === null ? '' : ` (the board allows ${allowedSpreadLu} LU)`
  return `Hums of these fonts differed by ${spreadBeforeLu.toFixed(1)} LU and ${then} by ${spreadAfterLu.toFixed(1)} LU${allowed}, ${heardInWords(report)}.`
}

/** Through what hums were measured, as the end of a sentence. */
export function heardInWords({ speakerLowLimitHz }: Pick<Report, 'speakerLowLimitHz'>): string {
  return speakerLowLimitHz === null
    ? 'measured without a speaker'
    : `as heard through a speaker from ${speakerLowLimitHz} Hz up`
}

/** The user's words on steps that a run followed, a line a word: `Ember Loom v2, clash: gain set to -3 dB`. */
export function wordsOnSteps({ choices, fonts }: Pick<Report, 'choices' | 'fonts'>): readonly string[] {
  return choices.map(({ editionId, step, value, role, path }) => {
    const font = fonts.find((each) => each.editionId === editionId)
    const title = font === undefined ? '' : fontTitle(font.font, font.version)
    const scope = path ?? role
    const unit = RECIPE_CHOICE_NUMBERS[step]?.unit ?? ''
    const word = value === null ? `${step} left out` : `${step} set to ${value} ${unit}`.trimEnd()
    return `${title}${scope === null ? '' : `, ${scope}`}: ${word}`
  })
}

/** What a sound without a role misses. */
export const WITHOUT_ROLE = 'Without a role a sound is not prepared, and gets no name on a card.'

/** Sounds of a font that nobody knows the role of. */
export function soundsWithoutRole({ sounds }: Pick<FontRow, 'sounds'>): FontRow['sounds'] {
  return sounds.filter(({ role }) => role === null)
}

/**
 * Errors and warnings that are left. Of a dry run those that stay for certain: of sounds that nothing would
 * be done to, and of the font as a whole where no step mends them; of the other sounds only making them tells.
 */
export function notMended(
  { sounds, stillWrong }: Pick<FontRow, 'sounds' | 'stillWrong'>,
  isDryRun: boolean,
): FontRow['stillWrong'] {
  if (!isDryRun) return stillWrong
  const untouched = new Set(sounds.filter(({ state }) => state === 'unchanged').map(({ path }) => path))
  return stillWrong.filter(({ path, fixable }) => (path === null ? !fixable : untouched.has(path)))
}
