import type { ChosenFont } from '../../audio/prepare/choose-recipes.ts'
import { foreseenSound } from '../../audio/prepare/foreseen-sound.ts'
import { levelOf } from '../../audio/level-of.ts'
import type { Judged } from '../../boards/judge.ts'
import type { ResponseOf } from '../../contract/calls.ts'
import type { ErrorReport } from '../../errors/app-error.ts'
import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Edition } from '../../model/library.ts'
import type { Recipe, RecipeOutcome } from '../../model/recipe.ts'
import { isLoop, type SoundPlace } from '../../model/role.ts'
import type { SoundInspection } from '../../model/sound.ts'
import type { FontInHand } from './fonts-to-prepare.ts'
import type { SoundCame } from './make-sounds.ts'
import { stepWords } from './step-words.ts'

type Report = ResponseOf<'prepare'>
type FontRow = Report['fonts'][number]
type SoundRow = FontRow['sounds'][number]

/** A font at the end of a run. */
export interface PreparedFont {
  readonly inHand: FontInHand
  readonly chosen: ChosenFont
  /** By path; sounds that needed nothing are not among them. */
  readonly came: ReadonlyMap<string, SoundCame>
  readonly problems: ReadonlyMap<string, ErrorReport>
  readonly after: Edition
  readonly judgedAfter: Judged
  readonly humAfterLufs: number | null
  readonly folder: string | null
}

/** A font of a run as the report tells it, sound by sound in the order of the edition. */
export function fontRow(font: PreparedFont): FontRow {
  const { inHand, chosen, after, judgedAfter } = font
  const { edition, judged } = inHand
  const recipes = new Map(chosen.recipes.map((each) => [each.sound.path, each]))
  const byPath = new Map(after.sounds.map((sound) => [sound.path, sound.inspection]))
  return {
    editionId: edition.id,
    font: edition.font.name,
    version: edition.version,
    gainDb: chosen.gain?.gainDb ?? null,
    humBeforeLufs: chosen.humLufs,
    humAfterLufs: font.humAfterLufs,
    verdictBefore: judged.verdict,
    verdictAfter: judgedAfter.verdict,
    stillWrong: judgedAfter.findings.filter(({ severity }) => severity !== 'note'),
    told: [...chosen.told],
    folder: font.folder,
    sounds: edition.sounds.map((sound): SoundRow => {
      const chosenRecipe = recipes.get(sound.path)
      const recipe = chosenRecipe?.recipe
      const came = font.came.get(sound.path)
      const problem =
        font.problems.get(sound.inspection.sha256) ?? (came?.state === 'failed' ? came.problem : null)
      const made = byPath.get(sound.path)
      const isOther = made !== undefined && made.sha256 !== sound.inspection.sha256
      const state = problem !== null ? 'failed' : (came?.state ?? stateOf(recipe))
      const before = stateRow(sound.place, sound.inspection)
      const after = isOther ? stateRow(sound.place, made) : null
      return {
        soundId: sound.id,
        path: sound.path,
        role: sound.place?.role ?? null,
        isLoop: sound.place !== null && isLoop(sound.place),
        state,
        wrong: judged.findings.filter(({ path }) => path === sound.path).map(({ message }) => message),
        steps: recipe === undefined ? [] : stepRows(recipe, sound.inspection.facts),
        told: [
          ...(recipe?.told ?? []),
          ...(came === undefined || came.state === 'failed' ? [] : outcomeWords(came.outcome)),
        ],
        problem: problem === null ? null : { code: problem.code, message: `${problem.what} ${problem.mend}` },
        before,
        after,
        foreseen:
          state === 'planned' && chosenRecipe !== undefined
            ? foreseenSound(chosenRecipe.sound.facts, chosenRecipe.recipe, chosenRecipe.levelLufs)
            : null,
        matchedLoudness: matchedLoudness(before, after),
      }
    }),
  }
}

function stateOf(recipe: Recipe | undefined): 'planned' | 'unchanged' {
  return (recipe?.steps.length ?? 0) > 0 ? 'planned' : 'unchanged'
}

/**
 * A recipe's steps with their numbers; times beside counts of frames, which are those of the rate at
 * that step.
 */
export function stepRows({ steps }: Recipe, facts: AudioFacts | null): SoundRow['steps'] {
  let rateHz = facts?.sampleRateHz ?? null
  return steps.map(({ action, rule, reason }) => {
    if (action.do === 'sample-rate') rateHz = action.toHz
    const { do: step, ...own } = action
    const numbers =
      action.do === 'repair-seam' && rateHz !== null
        ? { ...own, crossfadeMs: Math.round((action.crossfadeFrames / rateHz) * 1e4) / 10 }
        : own
    return { step, rule, reason, numbers, inWords: stepWords({ step, numbers }) }
  })
}

/** What came of doing a recipe, where it is worth a sentence. */
export function outcomeWords(outcome: RecipeOutcome): readonly string[] {
  const { limitedByDb, softenedByDb, correctedByDb, cutSamples } = outcome
  return [
    ...(correctedByDb === 0
      ? []
      : [
          `Its gain was corrected by ${correctedByDb.toFixed(2)} dB: the steps before it had moved its loudness.`,
        ]),
    ...(limitedByDb > 0.05 ? [`The limiter took up to ${limitedByDb.toFixed(1)} dB.`] : []),
    ...(softenedByDb > 0
      ? [`It is ${softenedByDb.toFixed(1)} dB softer than asked for: more limiting is not allowed.`]
      : []),
    ...(cutSamples > 0 ? [`${cutSamples} samples beyond full scale were cut to it.`] : []),
  ]
}

/**
 * What a sound is in numbers: Hz, bit, s, LUFS, dBTP; DC as a fraction of full scale; the seam's jump as a
 * ratio and its dip in dB. Null where it could not be read or measured.
 */
export function stateRow(place: SoundPlace | null, inspection: SoundInspection): SoundRow['before'] {
  const { sha256, sizeBytes, facts, measures } = inspection
  return {
    sha256,
    sizeBytes,
    sampleRateHz: facts?.sampleRateHz ?? null,
    bitDepth: facts?.bitDepth ?? null,
    channels: facts?.channels ?? null,
    seconds: facts?.seconds ?? null,
    levelLufs: place === null || measures === null ? null : levelOf(place, measures.levels),
    truePeakDbtp: measures?.levels.truePeakDbtp ?? null,
    dcOffset: measures?.dcOffset ?? null,
    jumpRatio: measures?.seam.jumpRatio ?? null,
    dipDb: measures?.seam.dipDb ?? null,
  }
}

/** What a sound of one channel gains by coming out of two loudspeakers: twice the power. */
const FROM_TWO_LOUDSPEAKERS_DB = 10 * Math.log10(2)

/**
 * The louder of the two is turned down to the softer, so that neither can clip. Loudness counts the
 * power of each channel of the file (ITU-R BS.1770-5, section 2), but a single channel is heard from
 * both loudspeakers.
 */
export function matchedLoudness(
  before: SoundRow['before'],
  after: SoundRow['after'],
): SoundRow['matchedLoudness'] {
  const was = heardLevel(before)
  const is = after === null ? null : heardLevel(after)
  if (was === null || is === null) return null
  const risesByDb = is - was
  return { originalGainDb: Math.min(0, risesByDb), preparedGainDb: Math.min(0, -risesByDb) }
}

function heardLevel({ levelLufs, channels }: SoundRow['before']): number | null {
  return levelLufs === null ? null : levelLufs + (channels === 1 ? FROM_TWO_LOUDSPEAKERS_DB : 0)
}

/** Loudest against softest of some levels; null with fewer than two. */
export function spreadOf(levels: readonly (number | null)[]): number | null {
  const known = levels.filter((level) => level !== null)
  return known.length < 2 ? null : Math.max(...known) - Math.min(...known)
}

/** How many sounds of all fonts came out in which state. */
export function countsOf(fonts: readonly FontRow[]): Report['counts'] {
  const states = fonts.flatMap(({ sounds }) => sounds.map(({ state }) => state))
  const count = (state: SoundRow['state']) => states.filter((each) => each === state).length
  return {
    unchanged: count('unchanged'),
    made: count('made'),
    kept: count('kept'),
    planned: count('planned'),
    failed: count('failed'),
  }
}
