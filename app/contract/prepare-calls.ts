import { z } from 'zod'
import { RECIPE_STEPS } from '../model/recipe.ts'
import { ROLES } from '../model/role.ts'
import * as shapes from './shapes.ts'
import { bytes, id } from './shapes.ts'

const path = z.string().min(1).max(32_768)
const step = z.enum(RECIPE_STEPS)
const measured = z.number().nullable()

/** A user's word on a step: for the whole font, for one role, or for one sound. */
const choice = z.strictObject({
  step,
  /** Null leaves the step out; a number takes the place of the step's own. */
  value: z.number().nullable(),
  role: z.enum(ROLES).optional(),
  path: path.optional(),
})

const recipeStep = z.strictObject({
  step,
  rule: z.string(),
  reason: z.string(),
  /** The step's own numbers, such as `gainDb`. */
  numbers: z.record(z.string(), z.union([z.number(), z.string(), z.boolean()])),
  /** In a few words with its numbers; empty for reading, which is no change. */
  inWords: z.string(),
})

/** A user's word on a step as it is kept: for one font, or for a role or a sound of it. */
const keptChoice = z.strictObject({
  editionId: id,
  step,
  value: z.number().nullable(),
  role: z.enum(ROLES).nullable(),
  path: path.nullable(),
})

const keptChoices = z.strictObject({ board: id, choices: z.array(keptChoice).readonly() })

/** Which of the kept words is meant, whatever it says. */
const choiceName = choice.omit({ value: true })

const form = {
  sizeBytes: bytes,
  sampleRateHz: measured,
  bitDepth: measured,
  channels: measured,
  seconds: measured,
  levelLufs: measured,
}

/** What a recipe will make of a sound, as far as its steps tell without being done; a limiter may make it softer. */
const foreseenState = z.strictObject(form)

/** What a sound is, before or after. */
const soundState = z.strictObject({
  sha256: z.string(),
  ...form,
  truePeakDbtp: measured,
  dcOffset: measured,
  jumpRatio: measured,
  dipDb: measured,
})

/**
 * Gains, none above 0, at which original and prepared are heard equally loud; null where one of them
 * has no level.
 */
const matchedLoudness = z.strictObject({ originalGainDb: z.number(), preparedGainDb: z.number() }).nullable()

export const preparedSoundRow = z.strictObject({
  soundId: id,
  path: z.string(),
  role: z.enum(ROLES).nullable(),
  isLoop: z.boolean(),
  /** `made` in this run; `kept` from an earlier one; `planned` by a dry run. */
  state: z.enum(['unchanged', 'made', 'kept', 'planned', 'failed']),
  wrong: z.array(z.string()).readonly(),
  steps: z.array(recipeStep).readonly(),
  told: z.array(z.string()).readonly(),
  problem: z.strictObject({ code: z.string(), message: z.string() }).nullable(),
  before: soundState,
  /** Null where nothing was made. */
  after: soundState.nullable(),
  /** Where it would be made: what would come of it. */
  foreseen: foreseenState.nullable(),
  matchedLoudness,
})

export const preparedFont = z.strictObject({
  editionId: id,
  font: z.string(),
  version: z.string(),
  /** The one gain of the font, from its hums; null where it has none. */
  gainDb: measured,
  /** Its loudest hum, as heard through the speaker where that is known. */
  humBeforeLufs: measured,
  humAfterLufs: measured,
  verdictBefore: shapes.verdict,
  /** As the font is now: what could not be put right is still in its findings. */
  verdictAfter: shapes.verdict,
  stillWrong: z.array(shapes.finding).readonly(),
  told: z.array(z.string()).readonly(),
  sounds: z.array(preparedSoundRow).readonly(),
  /** Where it was written to; null where it was not. */
  folder: z.string().nullable(),
})

export const prepareReport = z.strictObject({
  board: id,
  boardTitle: z.string(),
  /** Lowest frequency of the speaker that loudness was judged through; null where nobody knows. */
  speakerLowLimitHz: measured,
  dryRun: z.boolean(),
  tools: z.string(),
  /** Set where something less than the best had to do, in one sentence. */
  fallBack: z.string().nullable(),
  cautions: z.array(z.string()).readonly(),
  /** Loudest against softest hum of all fonts; null with fewer than two. */
  spreadBeforeLu: measured,
  spreadAfterLu: measured,
  allowedSpreadLu: measured,
  /** Where the board wants hums; null where it does not say. */
  humBand: z.strictObject({ lowestLufs: z.number(), highestLufs: z.number() }).nullable(),
  fonts: z.array(preparedFont).readonly(),
  /** The user's words on steps that these recipes follow. */
  choices: z.array(keptChoice).readonly(),
  counts: z.strictObject({
    unchanged: z.int(),
    made: z.int(),
    kept: z.int(),
    planned: z.int(),
    failed: z.int(),
  }),
})

/** @param selection which fonts an act is about */
export function prepareCallsWith<S extends z.ZodRawShape>(selection: z.ZodObject<S>) {
  return {
    prepare: {
      long: true,
      request: z.strictObject({
        ...selection.shape,
        /** Goes before the build's and the workshop's own; null judges without a speaker. */
        speakerLowLimitHz: shapes.speakerLowLimitHz.nullable().optional(),
        /** Chooses the recipes and makes nothing. */
        dryRun: z.boolean().optional(),
        /** Folder in which each prepared font is written as a folder; made where it is missing. */
        into: path.optional(),
        /** Page with all fonts before and after. */
        reportPath: path.optional(),
        /** Kept for these fonts and this board, but for a dry run. */
        choices: z.array(choice).max(200).readonly().optional(),
        /** Forgets these earlier choices first. */
        forget: z.array(choiceName).max(200).readonly().optional(),
        /** Forgets all earlier choices first. */
        resetChoices: z.boolean().optional(),
      }),
      response: prepareReport,
    },
    /** The user's words on steps, as they are kept for these fonts and this board. */
    'prepare:choices': { long: false, request: selection, response: keptChoices },
    /** Keeps and forgets words on steps; the next run follows them. First all are forgotten, then some, then new ones kept. */
    'prepare:choose': {
      long: false,
      request: z.strictObject({
        ...selection.shape,
        choices: z.array(choice).max(200).readonly().optional(),
        forget: z.array(choiceName).max(200).readonly().optional(),
        forgetAll: z.boolean().optional(),
      }),
      response: keptChoices,
    },
    /** How one sound stands for a board: its recipe, before and after, and how to play both equally loud. */
    'sounds:prepared': {
      long: false,
      request: z.strictObject({ soundId: id, boardId: id }),
      response: z.strictObject({
        soundId: id,
        board: id,
        path: z.string(),
        role: z.enum(ROLES).nullable(),
        isLoop: z.boolean(),
        /** False where it was not looked at for this board, or has changed since. */
        isPrepared: z.boolean(),
        steps: z.array(recipeStep).readonly(),
        told: z.array(z.string()).readonly(),
        before: soundState,
        /** Null where there are no prepared bytes: none are needed, or none made. */
        after: soundState.nullable(),
        matchedLoudness,
      }),
    },
  } as const
}
