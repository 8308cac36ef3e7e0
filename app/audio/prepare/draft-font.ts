import type { Board } from '../../model/board.ts'
import type { HumLimiting, SoundGroup } from '../../model/preparation.ts'
import type { RecipeStepName } from '../../model/recipe.ts'
import { isLoop } from '../../model/role.ts'
import { levelOf } from '../level-of.ts'
import { draftRecipe, fontRate, isForeign, type RecipeDraft } from './draft-recipe.ts'
import { humAim } from './font-gains.ts'
import { MOST_LIMITING_DB } from './most-limiting.ts'
import { chosenNumber, isDropped, partnerOf, type SoundToPrepare } from './sound-to-prepare.ts'

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
export function isFontHum({ place }: SoundToPrepare): boolean {
  return place.role === 'hum' && isLoop(place)
}

/** Layers that play together are cut alike, whichever of them needs it. */
export function seamReasonOf(members: readonly RecipeDraft[]): RecipeDraft['seamReason'] {
  if (members.some(({ sound }) => sound.isPrepared || isDropped(sound, 'repair-seam'))) return null
  return members.map(({ seamReason }) => seamReason).find((reason) => reason !== null) ?? null
}
