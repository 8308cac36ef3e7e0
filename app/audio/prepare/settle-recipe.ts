import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Board } from '../../model/board.ts'
import type { SoundAnswer } from '../../model/preparation.ts'
import { EMPTY_RECIPE, RECIPE_STEPS, type Recipe, type RecipeStep } from '../../model/recipe.ts'
import { isLoop } from '../../model/role.ts'
import { DEEPEST_DIP_DB, LONGEST_TAIL_MS, longestOnsetMs } from '../../model/sound-ends.ts'
import { isForeign, rewriteFinding, trimTo, type RecipeDraft } from './draft-recipe.ts'
import { MOST_RAISE_DB, type FontGain } from './font-gains.ts'
import { MOST_LIMITING_DB } from './most-limiting.ts'
import { chosenNumber, findingOf, isDropped, type SoundToPrepare } from './sound-to-prepare.ts'
import { trimBounds } from './trim.ts'

/** The gain of one sound, and why. */
export type SoundGain = Pick<RecipeStep, 'rule' | 'reason'> & {
  readonly gainDb: number
  /** Where the sound alone is to land; absent where it moves with its font, and where it cannot get there. */
  readonly aimLufs?: number
  /** Why it does not get there, in one sentence. */
  readonly told?: string
}

/** Peaks of what is made come out this far below the ceiling, so that a rule finds nothing. */
const PAIR_MARGIN_DB = 0.1
/**
 * How much higher than measured the true peak may lie after a step, in dB. A change of rate cuts treble
 * off whose share held edges down; a high-pass of this kind gives at an edge of a square wave up to
 * twice and a little its height; two unlike stretches blended at equal power add up to 3 dB.
 */
const PEAK_MAY_RISE_DB = { 'sample-rate': 3, trim: 0.1, 'high-pass': 7, 'repair-seam': 3.1 } as const
/** Steps of the depth by which rounding and dither can lift a sample. */
const ROUNDING_STEPS = 1.5
/** Offset that may be left, as a fraction of full scale: half of what is heard (common practice, no source). */
const DC_LEFT = 0.005
/** Depth of what is decoded from a coding that has none of its own. */
const USUAL_BITS = 16

const HIDDEN_DIP = {
  rule: 'loop-dip',
  reason: `Behind the steps before, its ends would be more than ${-DEEPEST_DIP_DB} dB softer than inside.`,
} as const

/** The complete recipe of a sound: its draft, what was found out about it, and its gain. */
export function settleRecipe(
  draft: RecipeDraft,
  answer: SoundAnswer | null,
  gain: SoundGain | null,
  board: Board,
): Recipe {
  const { sound } = draft
  if (sound.isPrepared || (sound.facts.frames ?? 0) === 0) return EMPTY_RECIPE
  const told: string[] = []
  const steps = [...draft.steps]
  const channels = answer?.channels ?? null
  if (draft.foldTo !== null && channels !== null) {
    steps.push({ action: channels, ...reasonOf(sound, 'channels') })
    if (channels.how === 'keep' && draft.foldTo === 1) {
      told.push(
        `Its channels cancel when summed (${(answer?.sumDb ?? 0).toFixed(1)} dB); channel ${channels.kept + 1} alone is kept.`,
      )
    }
  }
  const seam = answer?.seam ?? null
  if (seam !== null) steps.push({ action: seam, ...(draft.seamReason ?? HIDDEN_DIP) })
  else if (draft.seamReason !== null) told.push('It is too short for its loop to be closed anew.')
  const trim = hiddenTrimStep(sound, answer)
  if (trim !== null) steps.push(trim)
  if (gain !== null && gain.gainDb !== 0) {
    const { gainDb, aimLufs, rule, reason } = gain
    const action = { do: 'gain', gainDb, ...(aimLufs === undefined ? {} : { aimLufs }) } as const
    steps.push({ action, rule, reason })
    if (gain.told !== undefined) told.push(gain.told)
  }
  const grownDc = grownDcStep(sound, answer, gain?.gainDb ?? 0, steps)
  if (grownDc !== null) steps.push(grownDc)
  const ceiling = ceilingStep(draft, answer, gain?.gainDb ?? 0, board, steps)
  if (ceiling !== null) steps.push(ceiling)
  const rewrite = rewriteFinding(sound)
  const depth = depthStep(sound, board, steps, rewrite !== null)
  if (depth !== null) steps.push(depth)
  const [first] = steps
  if (first === undefined && rewrite === null) return { steps: [], told }
  const why = rewrite ?? { rule: first?.rule ?? 'user', reason: 'Samples are written anew.' }
  steps.push({ action: { do: 'header', header: 'plain' }, ...why })
  const by = isForeign(sound) ? 'decoder' : 'reader'
  steps.push({ action: { do: 'decode', by }, rule: why.rule, reason: codingWords(sound) })
  const order = (step: RecipeStep) => RECIPE_STEPS.indexOf(step.action.do)
  return { steps: steps.sort((a, b) => order(a) - order(b)), told }
}

/**
 * An offset that is too small to matter grows where the sound is raised, where channels are summed that
 * all have it, and where silence is cut off that it was averaged over; and a loop that is cut anew may
 * end in the middle of a turn.
 */
function grownDcStep(
  sound: SoundToPrepare,
  answer: SoundAnswer | null,
  gainDb: number,
  steps: readonly RecipeStep[],
): RecipeStep | null {
  const has = (name: RecipeStep['action']['do']) => steps.some(({ action }) => action.do === name)
  if (has('remove-dc') || has('high-pass') || isDropped(sound, 'remove-dc')) return null
  const own = Math.abs(sound.measures?.dcOffset ?? 0)
  const before = answer?.dcOffset == null ? own * steps.reduce(dcGrowth, 1) : Math.abs(answer.dcOffset)
  const after = before * 10 ** (gainDb / 20)
  if (after <= Math.max(DC_LEFT, own)) return null

  const doing = gainDb > 0 ? `Raised by ${gainDb.toFixed(1)} dB` : 'After the other steps'
  const reason = `${doing}, its middle would lie ${(after * 100).toFixed(1)} % of full scale off zero.`
  return { action: { do: 'remove-dc' }, rule: 'dc-offset', reason }

  function dcGrowth(factor: number, { action }: RecipeStep): number {
    const { channels, frames, sampleRateHz } = sound.facts
    if (action.do === 'channels' && action.how === 'fold')
      return factor * Math.sqrt((channels ?? 1) / action.to)
    if (action.do !== 'trim' || frames === null || sampleRateHz === null) return factor
    const { first, cutBehind } = trimBounds(frames, sampleRateHz, action.leadMs, action.tailMs)
    return (factor * frames) / (frames - first - cutBehind)
  }
}

/** Silence that shows only once the offset is gone. */
function hiddenTrimStep(sound: SoundToPrepare, answer: SoundAnswer | null): RecipeStep | null {
  const ends = answer?.ends ?? null
  if (ends === null) return null
  const { onsetMs, trailingSilenceMs } = ends
  const most = longestOnsetMs(sound.place)
  const isLate = most !== undefined && onsetMs !== null && onsetMs > most
  const isLong = trailingSilenceMs > LONGEST_TAIL_MS
  const late = `Without its offset it is first heard after ${onsetMs?.toFixed(0)} ms; ${most} ms are the most.`
  const long = `Without its offset it ends with ${trailingSilenceMs.toFixed(0)} ms of silence; ${LONGEST_TAIL_MS} ms are plenty.`
  return trimTo(ends, sound, isLate ? late : undefined, isLong ? long : undefined)
}

function reasonOf(sound: SoundToPrepare, rule: string): Pick<RecipeStep, 'rule' | 'reason'> {
  const finding = findingOf(sound, rule)
  return finding === undefined
    ? { rule: 'user', reason: 'You asked for it.' }
    : { rule, reason: finding.message }
}

function codingWords({ facts }: SoundToPrepare): string {
  const depth = facts.bitDepth === null ? '' : `${facts.bitDepth}-bit `
  return `${depth}${facts.coding === 'other' ? 'samples of another format' : facts.coding} are read.`
}

/** Whether a step gives samples that are no whole numbers of their depth any more. */
function alters({ action }: RecipeStep): boolean {
  return (
    action.do !== 'decode' && action.do !== 'header' && !(action.do === 'channels' && action.how === 'keep')
  )
}

function ceilingStep(
  draft: RecipeDraft,
  answer: SoundAnswer | null,
  gainDb: number,
  board: Board,
  steps: readonly RecipeStep[],
): RecipeStep | null {
  const { sound } = draft
  if (isDropped(sound, 'ceiling')) return null
  const chosen = chosenNumber(sound, 'ceiling')
  const limit = chosen ?? board.levels.ceilingDbtp
  const finding = findingOf(sound, 'true-peak')
  const isAltered = steps.some(alters)
  const peak = highestPeak(draft, answer, gainDb, steps, board)
  // Whole numbers end at full scale: what lies above it would be cut, ceiling or not.
  const ceilingDbtp = limit ?? 0
  const isAbove = peak === null || peak > ceilingDbtp
  const isAsked = isAbove && (chosen !== undefined || finding !== undefined || isAltered)
  const isNeeded = limit === null ? peak !== null && peak > 0 && (isAltered || isFloat(sound)) : isAsked
  if (!isNeeded || isWithoutPeak(sound)) return null
  const action = {
    do: 'ceiling',
    ceilingDbtp,
    mostReductionDb: board.levels.mostLimitingDb ?? MOST_LIMITING_DB,
    isLoop: isLoop(sound.place),
  } as const
  if (finding !== undefined) return { action, rule: finding.rule, reason: finding.message }
  return {
    action,
    rule: 'true-peak',
    reason: `Peaks are held below ${ceilingDbtp} dBTP, where the steps before could lift them.`,
  }
}

function isFloat({ facts }: SoundToPrepare): boolean {
  return facts.coding === 'float'
}

function measuredPeak({ measures }: SoundToPrepare): number | null {
  return measures?.levels.truePeakDbtp ?? null
}

/** Whether every sample is zero: then there is nothing to hold down, whatever is done to it. */
function isWithoutPeak({ measures }: SoundToPrepare): boolean {
  return (
    measures !== null &&
    measures.levels.truePeakDbtp === null &&
    measures.reasons['truePeakDbtp'] === 'silent'
  )
}

/** The highest that the true peak can be behind the gain; null where nothing tells. */
function highestPeak(
  { sound, steps: drafted }: RecipeDraft,
  answer: SoundAnswer | null,
  gainDb: number,
  steps: readonly RecipeStep[],
  { audio: { bitDepths } }: Board,
): number | null {
  const isRounded = steps.some(alters)
  const bits = Math.min(...(bitDepths ?? [USUAL_BITS]))
  const rounded = (peakDb: number) =>
    isRounded ? decibels(10 ** (peakDb / 20) + ROUNDING_STEPS * 2 ** (1 - bits)) : peakDb
  const found = answer?.levels?.truePeakDbtp ?? null
  if (found !== null) {
    // What was measured had no offset taken out that only grew by then.
    const isLater = steps.some((step) => step.action.do === 'remove-dc' && !drafted.includes(step))
    const offset = isLater
      ? Math.max(Math.abs(answer?.dcOffset ?? 0), Math.abs(sound.measures?.dcOffset ?? 0))
      : 0
    return rounded(found + gainDb + riseWithout(offset, found))
  }
  const measured = measuredPeak(sound)
  if (measured === null) return null
  const rises = steps.map(({ action }) => {
    if (action.do === 'channels')
      return action.how === 'fold' ? 10 * Math.log10(sound.facts.channels ?? 1) : 0
    if (action.do === 'remove-dc') return riseWithout(sound.measures?.dcOffset ?? 0, measured)
    return action.do in PEAK_MAY_RISE_DB ? PEAK_MAY_RISE_DB[action.do as keyof typeof PEAK_MAY_RISE_DB] : 0
  })
  return rounded(rises.reduce((sum, rise) => sum + rise, measured + gainDb))
}

/** What lies on the other side of zero than the offset moves away from it when the offset goes, in dB. */
function riseWithout(offset: number, peakDb: number): number {
  return decibels(1 + Math.abs(offset) / 10 ** (peakDb / 20))
}

function decibels(ratio: number): number {
  return 20 * Math.log10(ratio)
}

function depthStep(
  sound: SoundToPrepare,
  board: Board,
  steps: readonly RecipeStep[],
  isRewritten: boolean,
): RecipeStep | null {
  if (isDropped(sound, 'bit-depth')) return null
  const own = ownDepth(sound)
  const altering = steps.find(alters)
  const chosen = chosenNumber(sound, 'bit-depth')
  const target =
    chosen ?? targetDepth(own ?? losslessBits(sound.facts), isFloat(sound), board.audio.bitDepths)
  const finding = findingOf(sound, 'bit-depth', 'coding', 'container')
  // What has no depth that we write must get one, where it is written at all.
  const isAsked = finding !== undefined || chosen !== undefined || (isRewritten && own === null)
  if (altering === undefined && (!isAsked || target === own)) return null
  const isWhole = sound.facts.coding === 'pcm' ? (sound.facts.validBits ?? own ?? 32) : wholeBits(sound.facts)
  const dither = altering !== undefined || isWhole > target ? 'tpdf' : 'none'
  return {
    action: { do: 'bit-depth', bitDepth: target, dither },
    rule: finding?.rule ?? altering?.rule ?? 'user',
    reason: finding?.message ?? `Samples are rounded to ${target} bit again.`,
  }
}

/** Depth of the samples where it is one that we write; null for all other codings. */
function ownDepth({ facts }: SoundToPrepare): number | null {
  return facts.coding === 'pcm' && [8, 16, 24, 32].includes(facts.bitDepth ?? 0) ? facts.bitDepth : null
}

/** Bits of the whole numbers that a decoder gives; more than any depth where it gives fractions. */
function wholeBits(facts: AudioFacts): number {
  if (facts.coding === 'alaw' || facts.coding === 'mulaw' || facts.coding === 'adpcm') return 16
  return losslessBits(facts) ?? Infinity
}

/** Depth of what a coding of another format keeps exactly; null where it keeps it only nearly. */
function losslessBits({ coding, tags, validBits }: AudioFacts): number | null {
  return coding === 'other' && /^(FLAC|ALAC|PCM)\b/.test(tags['format'] ?? '') ? validBits : null
}

/** The least depth that loses nothing, else the greatest there is. */
function targetDepth(own: number | null, isFraction: boolean, taken: readonly number[] | null): number {
  const usual = isFraction ? 24 : (own ?? USUAL_BITS)
  if (taken === null) return [8, 16, 24, 32].find((depth) => depth >= usual) ?? 32
  const above = taken.filter((depth) => depth >= usual)
  return above.length > 0 ? Math.min(...above) : Math.max(...taken)
}

/**
 * The gain of a sound in dB: music has its own band and is brought to its middle, raised by no more than a
 * font is; everything else moves with its font, so that effects keep their distance to the hum.
 * @param marginLu how far inside its band a piece of music must lie: its level may not come out as told
 */
export function soundGain(
  sound: SoundToPrepare,
  levelLufs: number | null,
  fontGain: FontGain | undefined,
  board: Board,
  marginLu = 0,
): SoundGain | null {
  if (sound.isPrepared || isDropped(sound, 'gain')) return null
  const chosen = chosenNumber(sound, 'gain')
  if (chosen !== undefined) return { gainDb: chosen, rule: 'user', reason: 'You asked for it.' }
  const band = board.levels.music
  if (sound.place.role !== 'music' || band === null) return fontGain ?? null
  if (levelLufs === null) return null
  if (levelLufs >= band.lowestLufs + marginLu && levelLufs <= band.highestLufs - marginLu) return null
  const aimLufs = (band.lowestLufs + band.highestLufs) / 2
  const gainDb = Math.round((aimLufs - levelLufs) * 100) / 100
  const reason = `It has ${levelLufs.toFixed(1)} LUFS; the board's band for music is ${band.lowestLufs} to ${band.highestLufs} LUFS.`
  if (gainDb > MOST_RAISE_DB) {
    const told = `It would need ${gainDb.toFixed(1)} dB more; it is raised by ${MOST_RAISE_DB} dB, since its noise rises with it.`
    return { gainDb: MOST_RAISE_DB, rule: 'level', reason, told }
  }
  return { gainDb, aimLufs, rule: 'level', reason }
}

/**
 * The one gain of two layers that play together: they keep their relative level, so instead of
 * limiting one, both are made softer until both stay below the ceiling.
 * @param peaks true peaks of the two before the gain
 * @param ceiling in dBTP: the board's, or the user's own; null where none is held
 */
export function pairGain(
  gain: SoundGain | null,
  peaks: readonly (number | null)[],
  ceiling: number | null,
): { readonly gain: SoundGain | null; readonly told: string | null } {
  const known = peaks.filter((peak) => peak !== null)
  if (ceiling === null || known.length === 0) return { gain, told: null }
  const room = Math.floor((ceiling - PAIR_MARGIN_DB - Math.max(...known)) * 100) / 100
  const wanted = gain?.gainDb ?? 0
  const isAbove = Math.max(...known) + wanted > ceiling
  if (!isAbove) return { gain, told: null }
  const reason = `The louder layer would peak ${(Math.max(...known) + wanted).toFixed(1)} dBTP; both move together below ${ceiling} dBTP.`
  return {
    gain: { gainDb: room, rule: 'true-peak', reason },
    told:
      gain === null || gain.rule === 'user'
        ? null
        : `Both layers are ${(wanted - room).toFixed(1)} dB softer than the font's gain would have them, to stay below the ceiling together.`,
  }
}
