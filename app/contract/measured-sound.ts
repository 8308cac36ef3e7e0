import { z } from 'zod'
import * as shapes from './shapes.ts'

const known = shapes.audioFacts.shape
const measured = shapes.measures.shape

/**
 * One file of `measure --json`. Every key is always there; a null measure has its cause in `reasons`.
 * `error` is there only for a file that could not be read as a sound.
 */
export const measuredSound = z.strictObject({
  path: z.string(),
  bytes: z.int().nullable(),
  sha256: z.string().nullable(),
  container: known.container.nullable(),
  coding: known.coding.nullable(),
  formatTag: z.int().nullable(),
  channels: z.int().nullable(),
  sampleRateHz: z.number().nullable(),
  bitDepth: z.int().nullable(),
  validBits: z.int().nullable(),
  frames: z.number().nullable(),
  seconds: z.number().nullable(),
  chunks: known.chunks,
  loops: known.loops,
  defects: known.defects,
  levels: measured.levels,
  dcOffset: measured.dcOffset,
  clippedRuns: measured.clippedRuns,
  onsetMs: measured.onsetMs,
  leadingSilenceMs: measured.leadingSilenceMs,
  trailingSilenceMs: measured.trailingSilenceMs,
  lowShare: measured.lowShare,
  seam: measured.seam,
  /** Level of the sound: integrated where it carries loop points, else its momentary maximum. */
  levelLufs: z.number().nullable(),
  /** The same through the speaker asked for; null without one. */
  throughSpeakerLufs: z.number().nullable(),
  reasons: z.record(z.string(), z.string()),
  error: z.strictObject({ code: z.string(), message: z.string() }).optional(),
})

export type MeasuredSound = z.infer<typeof measuredSound>
