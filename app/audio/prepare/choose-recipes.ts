import type { Board } from '../../model/board.ts'
import type { HumLimiting, SoundAnswer, SoundGroup } from '../../model/preparation.ts'
import type { Recipe, RecipeStepName } from '../../model/recipe.ts'
import { isLoop } from '../../model/role.ts'
import { levelOf } from '../level-of.ts'
import { draftRecipe, fontRate, isForeign, type RecipeDraft } from './draft-recipe.ts'
import {
  EDGE_MARGIN_LU,
  fontGains,
  humAim,
  spreadToHold,
  type FontGain,
  type HumLevels,
} from './font-gains.ts'
import { MOST_LIMITING_DB } from './most-limiting.ts'
import { pairGain, settleRecipe, soundGain } from './settle-recipe.ts'
import { chosenNumber, findingOf, isDropped, partnerOf, type SoundToPrepare } from './sound-to-prepare.ts'

/** A font as far as its recipes are known without its samples. */
export interface FontDraft {
  readonly editionId: string
  readonly name: string
  readonly drafts: readonly RecipeDraft[]
  /** What must be found out, group by group, and which drafts each group is about. */
  readonly groups: readonly { readonly group: SoundGroup; readonly drafts: readonly RecipeDraft[] }[]
}

export interface FontToPrepare {
  readonly editionId: string
  readonly name: string
  readonly sounds: readonly SoundToPrepare[]
  readonly speakerLowLimitHz: number | null
}

/** First half of choosing recipes: what facts and findings say, and what is left to find out. */
export function draftFont(font: FontToPrepare, board: Board): FontDraft {
  const { sounds, speakerLowLimitHz } = font
  const matters = { rateHz: fontRate(sounds, board), speakerLowLimitHz }
  const drafts = atRatesOfPairs(sounds.map((sound) => draftRecipe(sound, board, matters)))
  const draftOf = new Map(drafts.map((draft) => [draft.sound, draft]))
  const groups: { group: SoundGroup; drafts: readonly RecipeDraft[] }[] = []
  const asked = new Set<RecipeDraft>()
  for (const draft of drafts) {
    if (asked.has(draft)) continue
    const partner = partnerOf(draft.sound, sounds)
    const other = partner === undefined ? undefined : draftOf.get(partner)
    const members = other === undefined ? [draft] : [draft, other]
    members.forEach((member) => asked.add(member))
    const group = groupOf(members, board, speakerLowLimitHz)
    if (group !== null) groups.push({ group, drafts: members })
  }
  return { editionId: font.editionId, name: font.name, drafts, groups }
}

/**
 * Layers that are cut alike are cut frame by frame, so they must have one rate by then: where a board
 * takes both of theirs, the lower one is brought to the higher.
 */
function atRatesOfPairs(drafts: readonly RecipeDraft[]): readonly RecipeDraft[] {
  const sounds = drafts.map(({ sound }) => sound)
  return drafts.map((draft) => {
    const partner = partnerOf(draft.sound, sounds)
    const other = drafts.find(({ sound }) => sound === partner)
    if (other === undefined || isDropped(draft.sound, 'sample-rate')) return draft
    const seamReason = seamReasonOf([draft, other])
    const fromHz = draft.sound.facts.sampleRateHz
    const toHz = rateOf(other)
    if (seamReason === null || fromHz === null || toHz === null || (rateOf(draft) ?? toHz) >= toHz)
      return draft
    const action = { do: 'sample-rate', fromHz, toHz, isLoop: true } as const
    const reason = `Its partner has ${toHz} Hz, and the two are cut together.`
    const others = draft.steps.filter((step) => step.action.do !== 'sample-rate')
    return { ...draft, steps: [...others, { action, rule: seamReason.rule, reason }] }
  })
}

/** Sample rate of a sound behind its draft. */
function rateOf({ sound, steps }: RecipeDraft): number | null {
  const action = steps.map((step) => step.action).find(({ do: step }) => step === 'sample-rate')
  return action?.do === 'sample-rate' ? action.toHz : sound.facts.sampleRateHz
}

function groupOf(
  members: readonly RecipeDraft[],
  board: Board,
  speakerLowLimitHz: number | null,
): SoundGroup | null {
  if (members.some(({ sound }) => (sound.facts.frames ?? 0) === 0)) return null
  const wantsSeam = seamReasonOf(members) !== null
  const sounds = members.map((draft) => {
    const { sound, steps, foldTo } = draft
    const isHum = isFontHum(sound)
    const changes = foldTo !== null || wantsSeam || steps.length > 0 || isForeign(sound)
    const isHeard = isHum && speakerLowLimitHz !== null
    const isMeasured = (isHum || members.length > 1 || isMusicToMeasure(draft, board)) && changes
    const limiting = isHum ? limitingOf(sound, isMeasured || isHeard, board) : null
    return {
      sha256: sound.sha256,
      recipe: { steps, told: [] },
      foldTo,
      wantsLevels: isMeasured || isHeard || limiting !== null,
      speakerLowLimitHz: isHum ? speakerLowLimitHz : null,
      limiting,
      wantsEnds: areEndsHidden(draft),
    }
  })
  const mayHideDip = !wantsSeam && members.every(mayBeClosed) && members.some(mayChangeEnds)
  const isAsked =
    wantsSeam ||
    mayHideDip ||
    sounds.some(({ foldTo, ...wants }) => foldTo !== null || wants.wantsLevels || wants.wantsEnds)
  return isAsked ? { sounds, wantsSeam, mayHideDip } : null
}

/** Whether a sound lies so far off zero that it never reads as silent: only without the offset it tells. */
function areEndsHidden({ sound, steps }: RecipeDraft): boolean {
  const has = (step: RecipeStepName) => steps.some(({ action }) => action.do === step)
  return has('remove-dc') && !has('trim') && !isLoop(sound.place) && !isDropped(sound, 'trim')
}

function mayBeClosed({ sound }: RecipeDraft): boolean {
  return isLoop(sound.place) && !sound.isPrepared && !isDropped(sound, 'repair-seam')
}

/** Whether a loop that fades at its ends may not look so yet: an offset or another channel fills them. */
function mayChangeEnds({ steps, foldTo }: RecipeDraft): boolean {
  return foldTo !== null || steps.some(({ action }) => action.do === 'remove-dc')
}

/**
 * What a hum must be tried against where its peaks may meet the limiter on the way to the middle of the
 * board's band.
 * @param isMeasured whether its level and peak are found out anyhow; else its own measures tell
 */
function limitingOf(sound: SoundToPrepare, isMeasured: boolean, { levels }: Board): HumLimiting | null {
  const ceilingDbtp = isDropped(sound, 'ceiling')
    ? null
    : (chosenNumber(sound, 'ceiling') ?? levels.ceilingDbtp)
  const aimLufs = humAim(levels)
  if (ceilingDbtp === null || aimLufs === null || sound.isPrepared || isDropped(sound, 'gain')) return null
  const own = sound.measures?.levels
  const level = own === undefined ? null : levelOf(sound.place, own)
  const peak = own?.truePeakDbtp ?? null
  const isBelow = level !== null && peak !== null && peak + Math.max(0, aimLufs - level) <= ceilingDbtp
  if (!isMeasured && isBelow) return null
  return { ceilingDbtp, mostReductionDb: levels.mostLimitingDb ?? MOST_LIMITING_DB, aimLufs }
}

/**
 * Whether the level of a piece of music must be measured behind its first steps. A change of rate or
 * of channels moves it by little and in a known way, and its band is wide: then the long way through
 * all of it is spared.
 */
function isMusicToMeasure({ sound, steps }: RecipeDraft, { levels: { music } }: Board): boolean {
  if (sound.place.role !== 'music' || music === null) return false
  if (music.highestLufs - music.lowestLufs < NARROW_LU) return true
  // At rates that loudness is not given at, only what comes out of the change can be measured.
  if (sound.measures === null || levelOf(sound.place, sound.measures.levels) === null) return true
  return steps.some(({ action }) => !['channels', 'sample-rate', 'remove-dc', 'trim'].includes(action.do))
}

/** A band in which a tenth of a LU can decide. */
const NARROW_LU = 2

/** The hum that a font's loudness is told by. */
function isFontHum({ place }: SoundToPrepare): boolean {
  return place.role === 'hum' && isLoop(place)
}

/** Layers that play together are cut alike, whichever of them needs it. */
function seamReasonOf(members: readonly RecipeDraft[]): RecipeDraft['seamReason'] {
  if (members.some(({ sound }) => sound.isPrepared || isDropped(sound, 'repair-seam'))) return null
  return members.map(({ seamReason }) => seamReason).find((reason) => reason !== null) ?? null
}

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
