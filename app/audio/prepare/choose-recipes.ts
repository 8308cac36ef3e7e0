import type { Board } from '../../model/board.ts'
import type { SoundAnswer } from '../../model/preparation.ts'
import type { Recipe } from '../../model/recipe.ts'
import { levelOf } from '../level-of.ts'
import { type RecipeDraft } from './draft-recipe.ts'
import { EDGE_MARGIN_LU, fontGains, spreadToHold, type FontGain, type HumLevels } from './font-gains.ts'
import { settleRecipe } from './settle-recipe.ts'
import { pairGain, soundGain } from './sound-gain.ts'
import { chosenNumber, findingOf, isDropped, partnerOf, type SoundToPrepare } from './sound-to-prepare.ts'
import { isFontHum, seamReasonOf, type FontDraft } from './draft-font.ts'

export interface ChosenRecipe {
  readonly sound: SoundToPrepare
  readonly recipe: Recipe
  /** Level that the sound will have by its role; null where only its samples tell. */
  readonly levelLufs: number | null
}

export interface ChosenFont {
  readonly editionId: string
  readonly recipes: readonly ChosenRecipe[]
  readonly gain: FontGain | null
  /** Level of the loudest hum before its gain, as heard through the speaker where that is known. */
  readonly humLufs: number | null
  /** The same behind gain and limiter, as far as it can be reckoned. */
  readonly humForeseenLufs: number | null
  readonly told: readonly string[]
}

/**
 * Second half: complete recipes of all fonts of a card, from what was found out. Fonts given together
 * are brought to one loudness.
 * @param answers of each font, in the order of its groups
 */
export function chooseRecipes(
  fonts: readonly { readonly draft: FontDraft; readonly answers: readonly (readonly SoundAnswer[])[] }[],
  board: Board,
): readonly ChosenFont[] {
  const known = fonts.map(({ draft, answers }) => ({ draft, answerOf: answersBySound(draft, answers) }))
  const hums = known.map(({ draft, answerOf }) => humLevels(draft, answerOf))
  const { gains, told, landings } = fontGains(hums, { ...board.levels, spreadLu: spreadToHold(board) })
  return known.map(({ draft, answerOf }) => {
    const gain = gains.get(draft.editionId) ?? null
    const sentence = told.get(draft.editionId)
    return {
      editionId: draft.editionId,
      recipes: recipesOf(draft, answerOf, gain ?? undefined, board),
      gain,
      humLufs: loudestHum(draft, answerOf),
      humForeseenLufs: landings.get(draft.editionId) ?? null,
      told: sentence === undefined ? [] : [sentence],
    }
  })
}

/** Level of a font's loudest hum as it stands; null where it has none. */
export function humLevelOf(draft: FontDraft, answers: readonly (readonly SoundAnswer[])[]): number | null {
  return loudestHum(draft, answersBySound(draft, answers))
}

function loudestHum({ drafts }: FontDraft, answerOf: Answers): number | null {
  const levels = drafts
    .filter(({ sound }) => isFontHum(sound))
    .map((hum) => levelBefore(hum, answerOf.get(hum)))
    .filter((level) => level !== null)
  return levels.length === 0 ? null : Math.max(...levels)
}

type Answers = ReadonlyMap<RecipeDraft, SoundAnswer>

function answersBySound(draft: FontDraft, answers: readonly (readonly SoundAnswer[])[]): Answers {
  const bySound = new Map<RecipeDraft, SoundAnswer>()
  draft.groups.forEach(({ drafts }, place) => {
    drafts.forEach((member, index) => {
      const answer = answers[place]?.[index]
      if (answer !== undefined) bySound.set(member, answer)
    })
  })
  return bySound
}

function humLevels({ editionId, name, drafts }: FontDraft, answerOf: Answers): HumLevels {
  const hums = drafts.filter(({ sound }) => isFontHum(sound))
  const standing = hums.flatMap((hum) => {
    const answer = answerOf.get(hum)
    const limited = answer?.limited ?? null
    const level = limited?.levelLufs ?? levelBefore(hum, answer)
    return level === null ? [] : [{ level, limited }]
  })
  const levelsLufs = standing.map(({ level }) => level)
  const loudest = Math.max(...levelsLufs)
  const toAimDb = standing.find(({ level }) => level === loudest)?.limited?.toAimDb
  const mosts = standing.flatMap(({ limited }) => (limited === null ? [] : [limited.mostDb]))
  const limits = {
    ...(toAimDb === undefined ? {} : { toAimDb }),
    ...(mosts.length === 0 ? {} : { mostDb: Math.min(...mosts) }),
  }
  // A font whose hums are prepared already stands where it stands, and the others are brought to it.
  const isDone = hums.length > 0 && hums.every(({ sound }) => sound.isPrepared)
  const isUntouched = isDone || hums.some(({ sound }) => isDropped(sound, 'gain'))
  const isAltered = hums.some(changesSamples)
  return { editionId, name, levelsLufs, isAltered, ...limits, ...(isUntouched ? { chosenDb: null } : {}) }
}

/** Whether the samples will be others even without a gain. */
function changesSamples({ sound, steps, foldTo, seamReason }: RecipeDraft): boolean {
  if (sound.isPrepared) return false
  const isRounded = findingOf(sound, 'bit-depth', 'coding', 'true-peak') !== undefined
  return isRounded || steps.length > 0 || foldTo !== null || seamReason !== null
}

/** How far inside its band a piece of music must lie: by more where its level is reckoned, not measured. */
function marginOf(draft: RecipeDraft, answer: SoundAnswer | null): number {
  if (!changesSamples(draft)) return 0
  return answer?.levels == null ? RECKONED_MARGIN_LU : EDGE_MARGIN_LU
}

/** Summed channels and a lower rate move loudness by other than reckoned, hardly ever by more than this. */
const RECKONED_MARGIN_LU = 1

/** Level of a sound as it will be but for its gain, as heard through the speaker where that is known. */
function levelBefore({ sound }: RecipeDraft, answer: SoundAnswer | undefined): number | null {
  const found = answer?.throughSpeaker ?? answer?.levels
  if (found != null) return levelOf(sound.place, found)
  const own = sound.measures === null ? null : levelOf(sound.place, sound.measures.levels)
  return own === null ? null : own + foldingDb(sound, answer)
}

/** A limiter that takes no more than this of the peaks leaves the level as good as it was, in dB. */
const UNHEARD_LIMITING_DB = 1

/** Level of a sound behind its recipe; what a filter or much limiting takes, only measuring tells. */
function foreseenLevel(sound: SoundToPrepare, answer: SoundAnswer | null, recipe: Recipe): number | null {
  const measured = answer?.levels ?? null
  const own = sound.measures === null ? null : levelOf(sound.place, sound.measures.levels)
  const before =
    measured !== null
      ? levelOf(sound.place, measured)
      : own === null || recipe.steps.some(({ action }) => action.do === 'high-pass')
        ? null
        : own + foldingDb(sound, answer ?? undefined)
  const gain = recipe.steps.find(({ action }) => action.do === 'gain')?.action
  const ceiling = recipe.steps.find(({ action }) => action.do === 'ceiling')?.action
  const gainDb = gain?.do === 'gain' ? gain.gainDb : 0
  const peakDbtp = measured?.truePeakDbtp ?? sound.measures?.levels.truePeakDbtp ?? -Infinity
  const overDb = ceiling?.do === 'ceiling' ? peakDbtp + gainDb - ceiling.ceilingDbtp : 0
  return before === null || overDb > UNHEARD_LIMITING_DB ? null : before + gainDb
}

/** What summing its channels does to a sound's loudness, which counts the power of all of them. */
function foldingDb({ facts }: SoundToPrepare, answer: SoundAnswer | undefined): number {
  if (answer?.channels?.how !== 'fold' || answer.sumDb === null) return 0
  return answer.sumDb - 10 * Math.log10(facts.channels ?? 1)
}

function recipesOf(
  font: FontDraft,
  answerOf: Answers,
  gain: FontGain | undefined,
  board: Board,
): readonly ChosenRecipe[] {
  const sounds = font.drafts.map(({ sound }) => sound)
  return font.drafts.map((draft) => {
    const { sound } = draft
    const answer = answerOf.get(draft) ?? null
    const partner = partnerOf(sound, sounds)
    const other = font.drafts.find((each) => each.sound === partner)
    const own = soundGain(
      sound,
      levelBefore(draft, answer ?? undefined),
      gain,
      board,
      marginOf(draft, answer),
    )
    if (other === undefined) {
      const recipe = settleRecipe(draft, answer, own, board)
      return { sound, recipe, levelLufs: foreseenLevel(sound, answer, recipe) }
    }
    const peaks = [draft, other].map((each) => peakBefore(each, answerOf.get(each)))
    const ceiling = ceilingOfPair([sound, other.sound], board)
    const together = isDropped(sound, 'gain') ? { gain: own, told: null } : pairGain(own, peaks, ceiling)
    const closed = { ...draft, seamReason: seamReasonOf([draft, other]) }
    const recipe = settleRecipe(closed, answer, together.gain, board)
    return {
      sound,
      recipe: together.told === null ? recipe : { ...recipe, told: [...recipe.told, together.told] },
      levelLufs: foreseenLevel(sound, answer, recipe),
    }
  })
}

/** Layers are held below the lower of their ceilings together: the user may have set one of their own. */
function ceilingOfPair(pair: readonly SoundToPrepare[], { levels: { ceilingDbtp } }: Board): number | null {
  const held = pair
    .filter((sound) => !isDropped(sound, 'ceiling'))
    .map((sound) => chosenNumber(sound, 'ceiling') ?? ceilingDbtp)
    .filter((ceiling) => ceiling !== null)
  return held.length === 0 ? null : Math.min(...held)
}

function peakBefore({ sound }: RecipeDraft, answer: SoundAnswer | undefined): number | null {
  return answer?.levels?.truePeakDbtp ?? sound.measures?.levels.truePeakDbtp ?? null
}
