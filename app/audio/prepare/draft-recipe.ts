import type { Board } from '../../model/board.ts'
import type { SoundEnds } from '../../model/preparation.ts'
import { isLoop } from '../../model/role.ts'
import type { RecipeStep } from '../../model/recipe.ts'
import { chosenNumber, findingOf, isDropped, type SoundToPrepare } from './sound-to-prepare.ts'

/** What of a recipe can be said from facts and findings alone. */
export interface RecipeDraft {
  readonly sound: SoundToPrepare
  /** Settled steps in their order: of decode, channels, sample-rate, remove-dc, trim, high-pass. */
  readonly steps: readonly RecipeStep[]
  /** Channels to fold to; whether to fold or keep one shows in the samples. */
  readonly foldTo: number | null
  /** Why the loop must be closed anew; null where it need not. */
  readonly seamReason: { readonly rule: string; readonly reason: string } | null
}

/** What holds for all sounds of a font. */
export interface FontMatters {
  /** The rate that sounds are brought to where theirs does not fit; null where each finds its own. */
  readonly rateHz: number | null
  /** Lowest frequency that the speaker gives; null where nobody knows. */
  readonly speakerLowLimitHz: number | null
}

/** Silence that is left before and behind what is heard. Common practice, no source. */
const LEAD_KEPT_MS = 4
const TAIL_KEPT_MS = 60
/** A cut shorter than this is not worth the fade. */
const LEAST_CUT_MS = 1

const REWRITTEN = ['container', 'coding', 'plain-header', 'truncated', 'defects', 'bit-depth']

/**
 * The first part of a sound's recipe: what facts and findings ask for. A step is only there where a
 * rule found its value outside what the board takes, or the user asked for it.
 */
export function draftRecipe(sound: SoundToPrepare, board: Board, font: FontMatters): RecipeDraft {
  const none: RecipeDraft = { sound, steps: [], foldTo: null, seamReason: null }
  if (sound.isPrepared || (sound.facts.frames ?? 0) === 0) return none
  const channels = channelStep(sound, board)
  const steps = [
    rateStep(sound, board, font.rateHz),
    dcStep(sound),
    trimStep(sound),
    highPassStep(sound, font.speakerLowLimitHz),
  ].filter((step) => step !== null)
  return {
    sound,
    steps: channels.step === null ? steps : [channels.step, ...steps],
    foldTo: channels.foldTo,
    seamReason: seamReason(sound),
  }
}

/** Rules that ask for nothing but writing the file anew. */
export function rewriteFinding(sound: SoundToPrepare): { rule: string; reason: string } | null {
  const finding = findingOf(sound, ...REWRITTEN)
  if (finding === undefined || isDropped(sound, 'header')) return null
  return { rule: finding.rule, reason: finding.message }
}

/** Whether only another decoder turns the file into samples. */
export function isForeign({ facts }: SoundToPrepare): boolean {
  return facts.coding !== 'pcm' && facts.coding !== 'float'
}

function channelStep(
  sound: SoundToPrepare,
  board: Board,
): { step: RecipeStep | null; foldTo: number | null } {
  const finding = findingOf(sound, 'channels')
  const taken = board.audio.channels
  const count = sound.facts.channels ?? 1
  if (finding === undefined || taken === null || isDropped(sound, 'channels'))
    return { step: null, foldTo: null }
  const fewer = taken.filter((each) => each < count)
  if (fewer.length > 0) return { step: null, foldTo: Math.max(...fewer) }
  const to = Math.min(...taken)
  const action = { do: 'channels', how: 'spread', to, kept: 0 } as const
  return { step: { action, rule: finding.rule, reason: finding.message }, foldTo: null }
}

function rateStep(sound: SoundToPrepare, board: Board, fontRateHz: number | null): RecipeStep | null {
  const finding = findingOf(sound, 'sample-rate', 'one-rate')
  const fromHz = sound.facts.sampleRateHz
  if (finding === undefined || fromHz === null || isDropped(sound, 'sample-rate')) return null
  const toHz = fontRateHz ?? nearestRate(fromHz, board.audio.sampleRatesHz ?? [])
  if (toHz === null || toHz === fromHz) return null
  const action = { do: 'sample-rate', fromHz, toHz, isLoop: isLoop(sound.place) } as const
  return { action, rule: finding.rule, reason: finding.message }
}

/** The lowest rate that loses nothing, else the highest there is. */
function nearestRate(fromHz: number, taken: readonly number[]): number | null {
  const above = taken.filter((rate) => rate >= fromHz)
  if (above.length > 0) return Math.min(...above)
  return taken.length > 0 ? Math.max(...taken) : null
}

/**
 * The one rate of a font for a board that wants one: the usual one of its sounds that fit, else the
 * nearest to the usual one of those that do not. Null where each sound may have its own.
 */
export function fontRate(sounds: readonly SoundToPrepare[], board: Board): number | null {
  const taken = board.audio.sampleRatesHz
  if (board.audio.oneRateInFont !== true || taken === null) return null
  const rates = sounds.map(({ facts }) => facts.sampleRateHz).filter((rate) => rate !== null)
  const fitting = rates.filter((rate) => taken.includes(rate))
  const usual = mostCommon(fitting.length > 0 ? fitting : rates)
  return usual === null ? null : nearestRate(usual, taken)
}

function mostCommon(values: readonly number[]): number | null {
  const counts = new Map<number, number>()
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1)
  const [first] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])
  return first?.[0] ?? null
}

function dcStep(sound: SoundToPrepare): RecipeStep | null {
  const finding = findingOf(sound, 'dc-offset')
  if (finding === undefined || isDropped(sound, 'remove-dc')) return null
  return { action: { do: 'remove-dc' }, rule: finding.rule, reason: finding.message }
}

function trimStep(sound: SoundToPrepare): RecipeStep | null {
  const { measures } = sound
  if (measures === null || isLoop(sound.place) || isDropped(sound, 'trim')) return null
  const slow = findingOf(sound, 'slow-onset')
  const tail = findingOf(sound, 'trailing-silence')
  const silent = measures.trailingSilenceMs ?? 0
  return trimTo({ onsetMs: measures.onsetMs, trailingSilenceMs: silent }, sound, slow?.message, tail?.message)
}

/** Cuts what comes before a sound where there is a reason for it, and what comes behind. */
export function trimTo(
  { onsetMs, trailingSilenceMs }: SoundEnds,
  { facts }: SoundToPrepare,
  whyLead: string | undefined,
  whyTail: string | undefined,
): RecipeStep | null {
  const leadMs = whyLead === undefined ? 0 : rounded(Math.max(0, (onsetMs ?? 0) - LEAD_KEPT_MS))
  const isAllSilent = trailingSilenceMs >= (facts.seconds ?? 0) * 1000
  const tailMs =
    whyTail === undefined || isAllSilent ? 0 : rounded(Math.max(0, trailingSilenceMs - TAIL_KEPT_MS))
  if (leadMs < LEAST_CUT_MS && tailMs < LEAST_CUT_MS) return null
  const reason = [whyLead, whyTail].filter((why) => why !== undefined).join(' ')
  const rule = whyLead === undefined ? 'trailing-silence' : 'slow-onset'
  return { action: { do: 'trim', leadMs, tailMs }, rule, reason }
}

function seamReason(sound: SoundToPrepare): RecipeDraft['seamReason'] {
  const finding = findingOf(sound, 'loop-seam', 'loop-dip', 'pair-lengths')
  if (finding === undefined || !isLoop(sound.place) || isDropped(sound, 'repair-seam')) return null
  return { rule: finding.rule, reason: finding.message }
}

function highPassStep(sound: SoundToPrepare, speakerLowLimitHz: number | null): RecipeStep | null {
  const finding = findingOf(sound, 'low-share')
  const chosen = chosenNumber(sound, 'high-pass')
  if (isDropped(sound, 'high-pass')) return null
  const limit = chosen ?? (finding === undefined ? null : speakerLowLimitHz)
  if (limit === null) return null
  const action = { do: 'high-pass', frequencyHz: limit, isLoop: isLoop(sound.place) } as const
  return finding === undefined
    ? { action, rule: 'user', reason: 'You asked for it.' }
    : { action, rule: finding.rule, reason: finding.message }
}

function rounded(ms: number): number {
  return Math.round(ms * 100) / 100
}
