import { closeSync, openSync } from 'node:fs'
import { join } from 'node:path'
import { inspectSound } from '../../app/audio/inspect-sound.ts'
import { steadyLevel } from '../../app/audio/level-of.ts'
import { actionOf, afterRate, finishRecipe } from '../../app/audio/prepare/run-recipe.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { Recipe, RecipeOutcome } from '../../app/model/recipe.ts'
import type { MadeSound } from '../../app/ports/sound-preparer.ts'
import { newSha256 } from '../adapters/files/new-sha256.ts'
import { WAVEFILE_MOST_BYTES } from '../adapters/media/decode-by-wavefile.ts'
import { disproof } from '../adapters/media/proof-by-wavefile.ts'
import { bytesSource, openFileSource } from './file-byte-source.ts'
import type { OpenSamples } from './original-source.ts'
import type { PrepareTools } from './prepare-tools.ts'
import { writeWhole } from './write-whole.ts'

/** A limiter's output is held against the ceiling by the meter, and done again a little lower if need be. */
const MOST_TRIES = 4

/**
 * Does what a recipe says behind the sample rate, and reads what it wrote back from the disk: measured,
 * held against the ceiling and the aim, and read by another reader as proof.
 * @param seed of the dither
 * @throws AppError `prepare/not-proven` and those of reading and writing; Cancelled
 */
export function madeFrom(samples: OpenSamples, recipe: Recipe, seed: string, tools: PrepareTools): MadeSound {
  const { source: sound, removedDc } = afterRate(samples.source, recipe)
  const depth = actionOf(recipe, 'bit-depth')
  const ceiling = actionOf(recipe, 'ceiling')
  const path = join(tools.scratchFolder, `${tools.nextNumber()}.wav`)
  const bitDepth = depth?.bitDepth ?? samples.bitDepth
  const aimLufs = actionOf(recipe, 'gain')?.aimLufs
  let softenedByDb = 0
  let correctedByDb = 0
  let underCeilingDb = 0
  for (let attempt = 1; ; attempt++) {
    const { rounder, cancel } = tools
    const options = { bitDepth, seed, rounder, softenedByDb, correctedByDb, underCeilingDb, cancel }
    const done = written(path, (sink) => finishRecipe(sound, recipe, options, sink))
    const tooMuch = ceiling === undefined ? 0 : done.limitedByDb - ceiling.mostReductionDb
    if (tooMuch > 0 && attempt < MOST_TRIES) {
      softenedByDb += Math.ceil(tooMuch * 100) / 100
      continue
    }
    const read = readBack(path, tools)
    const peak = read.inspection.measures?.levels.truePeakDbtp ?? null
    const above = ceiling === undefined || peak === null ? 0 : peak - ceiling.ceilingDbtp
    if (above > 0 && attempt < MOST_TRIES) {
      underCeilingDb += above + 0.01
      continue
    }
    const missedByDb = missedBy(aimLufs, read, done.limitedByDb, softenedByDb)
    if (missedByDb !== 0 && correctedByDb === 0 && attempt < MOST_TRIES) {
      correctedByDb = missedByDb
      continue
    }
    const outcome: RecipeOutcome = { ...done, softenedByDb, correctedByDb, removedDc }
    prove(read, { ...outcome, channels: sound.channels, sampleRateHz: sound.sampleRateHz, bitDepth })
    return { inspection: read.inspection, peaks: read.peaks, path, outcome }
  }
}

/** Nearer than this to its aim, a sound is left. */
const AIM_MISSED_LU = 0.05

/** By how much a sound missed its aim; where the limiter holds it down, that is told instead. */
function missedBy(
  aimLufs: number | undefined,
  { inspection }: ReadBack,
  limitedByDb: number,
  softenedByDb: number,
): number {
  const levels = inspection.measures?.levels
  const level = levels === undefined ? null : steadyLevel(levels)
  if (aimLufs === undefined || level === null || limitedByDb > 0.05 || softenedByDb > 0) return 0
  const missed = Math.round((aimLufs - level) * 100) / 100
  return Math.abs(missed) > AIM_MISSED_LU ? missed : 0
}

function written<T>(path: string, write: (sink: { write(bytes: Uint8Array): void }) => T): T {
  const handle = openSync(path, 'w')
  try {
    return write({ write: (bytes) => writeWhole(handle, bytes) })
  } finally {
    closeSync(handle)
  }
}

/** What was written, read from the disk: in one piece where another reader is to see it too. */
function readBack(path: string, { kernel, cancel, roomFor }: PrepareTools): ReadBack {
  const tools = { kernel, newHasher: newSha256, cancel }
  const file = openFileSource(path)
  try {
    if (file.sizeBytes > WAVEFILE_MOST_BYTES) return { ...inspectSound(file, tools), bytes: undefined }
    const bytes = roomFor(file.sizeBytes)
    file.readInto(bytes, 0)
    return { ...inspectSound(bytesSource(bytes), tools), bytes }
  } finally {
    file.close()
  }
}

type ReadBack = Pick<MadeSound, 'inspection' | 'peaks'> & { readonly bytes: Uint8Array | undefined }

/** @throws AppError `prepare/not-proven` where what was written does not read as it should: a fault of ours */
function prove(
  { inspection, bytes }: ReadBack,
  format: { frames: number; channels: number; sampleRateHz: number; bitDepth: number },
): void {
  const { facts } = inspection
  const isSound = facts?.frames === format.frames && facts.defects.length === 0
  const disproved = isSound && bytes !== undefined ? disproof(bytes, format) : undefined
  const fault = isSound ? disproved : 'our own reader finds a fault in it'
  if (fault === undefined) return
  throw new AppError({
    code: 'prepare/not-proven',
    what: `The prepared sound does not read back as it was written: ${fault}.`,
    where: '',
    mend: 'Report it; the original is unchanged.',
    kind: 'machine',
  })
}
