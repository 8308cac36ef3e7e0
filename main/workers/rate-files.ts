import { closeSync, openSync, statSync } from 'node:fs'
import { bareFloats, decodedSource } from '../../app/audio/prepare/decoded-source.ts'
import { turning } from '../../app/audio/prepare/loop-turns.ts'
import { FORMAT_TAG_AT, plainHeader } from '../../app/audio/prepare/plain-wav.ts'
import { planRate, type RatePlan } from '../../app/audio/prepare/rate-plan.ts'
import { eachBlock, type SampleSource } from '../../app/audio/prepare/sample-source.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { RecipeAction } from '../../app/model/recipe.ts'
import type { CancelCheck } from '../../app/ports/bytes.ts'
import type { ResampleItem } from '../adapters/media/resample-batch.ts'
import { closeOnce, type OpenSamples } from './original-source.ts'
import { openFileSource } from './file-byte-source.ts'
import { writeWhole } from './write-whole.ts'

/** A sound on its way through the resampler. */
export interface RateCrossing {
  readonly item: ResampleItem
  readonly plan: RatePlan
  readonly channels: number
  readonly toHz: number
}

type RateAction = Extract<RecipeAction, { readonly do: 'sample-rate' }>

/** Samples as they lie in a file that the resampler can read itself. */
export interface LyingSamples {
  readonly path: string
  readonly reader: Exclude<ResampleItem['reader'], 'f32le'>
  readonly skipBytes: number
  /** Whether the file is a WAV in which every reader finds the same samples. */
  readonly isPlainWav: boolean
}

/** How a sound is to cross. */
export interface RateOrder extends RateAction {
  /** What its samples are rounded to in the end. */
  readonly bitDepth: number
}

/** A sound that is played once, straight from its original: nothing is copied. */
export function passForRate(
  { channels, frames }: SampleSource,
  { fromHz, toHz, bitDepth }: RateOrder,
  lying: LyingSamples,
  outPath: string,
): RateCrossing {
  const plan = planRate(frames, fromHz, toHz, false)
  const item: ResampleItem = {
    ...{ inPath: lying.path, reader: lying.reader, skipBytes: lying.skipBytes },
    ...{ isPlainWav: lying.isPlainWav, outPath },
    ...{ inHz: plan.inHz, outHz: plan.outHz, channels, frames, padFrames: plan.after },
    bitDepth,
  }
  return { item, plan, channels, toHz }
}

/** Writes a sound as bare floats for the resampler, with what must stand around it. */
export function writeForRate(
  source: SampleSource,
  { fromHz, toHz, isLoop, bitDepth }: RateOrder,
  paths: { readonly inPath: string; readonly outPath: string },
  cancel: CancelCheck,
): RateCrossing {
  const plan = planRate(source.frames, fromHz, toHz, isLoop)
  const surrounded = isLoop ? turning(source, plan.before, plan.after) : source
  const { channels } = source
  const handle = openSync(paths.inPath, 'w')
  const header = floatHeader(surrounded.frames, channels, plan.inHz)
  try {
    writeWhole(handle, header)
    let floats = new Float32Array(0)
    eachBlock(surrounded, (block) => {
      cancel()
      const frames = block[0]?.length ?? 0
      if (floats.length !== frames * channels) floats = new Float32Array(frames * channels)
      block.forEach((samples, channel) => {
        for (let frame = 0, at = channel; frame < frames; frame++, at += channels) {
          floats[at] = samples[frame] ?? 0
        }
      })
      writeWhole(handle, floats)
    })
  } finally {
    closeSync(handle)
  }
  const item: ResampleItem = {
    ...{
      ...paths,
      reader: 'f32le',
      skipBytes: header.length,
      inHz: plan.inHz,
      outHz: plan.outHz,
      channels,
    },
    isPlainWav: surrounded.frames * 4 * channels < LARGEST_RIFF,
    ...{ frames: surrounded.frames, padFrames: isLoop ? 0 : plan.after, bitDepth },
  }
  return { item, plan, channels, toHz }
}

const LARGEST_RIFF = 0xff_ff_ff_00
const FLOAT = 3

/**
 * Before bare floats, for the sake of readers that know them from it. Sizes that do not fit are cut:
 * then it is only passed over.
 */
function floatHeader(frames: number, channels: number, rateHz: number): Uint8Array {
  const format = {
    frames: Math.min(frames, Math.floor(LARGEST_RIFF / (4 * channels))),
    channels,
    bitDepth: 32,
  }
  const header = plainHeader({ ...format, sampleRateHz: rateHz })
  new DataView(header.buffer).setUint16(FORMAT_TAG_AT, FLOAT, true)
  return header
}

/** The converted sound, without what stood around it. @throws AppError `prepare/cut-short` */
export function openConverted({ item, plan, channels, toHz }: RateCrossing): OpenSamples {
  const sizeBytes = statSync(item.outPath, { throwIfNoEntry: false })?.size ?? 0
  const frames = Math.floor(sizeBytes / (4 * channels))
  if (frames < plan.skip + plan.frames) {
    throw new AppError({
      code: 'prepare/cut-short',
      what: `ffmpeg gave ${frames} frames where ${plan.skip + plan.frames} were due.`,
      where: '',
      mend: 'Try again; if it comes back, name another ffmpeg with CARDWRIGHT_FFMPEG.',
      kind: 'machine',
    })
  }
  const file = openFileSource(item.outPath)
  const layout = { ...bareFloats(plan.frames, channels, toHz), dataAt: plan.skip * 4 * channels }
  return { source: decodedSource(file, layout, true), bitDepth: 32, lying: undefined, close: closeOnce(file) }
}
