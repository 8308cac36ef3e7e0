import {
  CANDIDATE_RATIO,
  COARSE_TAPS,
  coarseTaps,
  FINE_TAPS,
  fineTaps,
  PHASES,
} from '../kernel/true-peak-taps.ts'
import { newSamples, type SampleStream } from './sample-source.ts'

/** The gain is at its lowest this long before and after a peak, and moves as slowly. */
const LOOK_AHEAD_MS = 2
/** Time in which it comes back, to 1/e. Both from common practice, no source. */
const RELEASE_MS = 60
const BLOCK = 4096
const REACH = FINE_TAPS / 2 + 2
const COARSE_GAIN = Math.max(...coarseTaps.map((taps) => taps.reduce((sum, tap) => sum + Math.abs(tap), 0)))

/** A stream below a ceiling, and how far it had to be turned down for it. */
export interface LimitedStream extends SampleStream {
  /** Smallest gain that was used since `forget`. */
  readonly lowestGain: () => number
  /** Forgets the gain used so far: for the turn of a loop that only settles. */
  readonly forget: () => void
}

/**
 * A look-ahead limiter on the true peak. For each frame the gain that brings its peak (samples, and
 * what lies between them) down to the ceiling; the lowest of these within the look-ahead; a slow
 * return; and all of it smoothed by a raised cosine no wider than the look-ahead, so that no peak
 * finds a gain above its own. All channels share one gain. Where nothing reaches the ceiling the
 * samples come out as they went in.
 *
 * @param ceiling as a fraction of full scale
 */
export function limited(stream: SampleStream, ceiling: number): LimitedStream {
  const ahead = Math.max(4, Math.round((LOOK_AHEAD_MS / 1000) * stream.sampleRateHz))
  const lead = 2 * ahead + 2 + REACH
  const room = lead + BLOCK + lead
  const weights = raisedCosine(ahead)
  const release = Math.exp(-1000 / (RELEASE_MS * stream.sampleRateHz))
  const samples = newSamples(stream.channels, room)
  /** Gain each frame needs, and the lowest around it with its slow return. */
  const needed = new Float64Array(room).fill(1)
  const held = new Float64Array(room).fill(1)
  const out = newSamples(stream.channels, BLOCK)
  const gains = new Float64Array(BLOCK).fill(1)
  let ready = 0
  let given = 0
  let lowest = 1
  let isPrimed = false

  function readOn(frames: number): void {
    for (const channel of samples) channel.copyWithin(0, frames)
    needed.copyWithin(0, frames)
    held.copyWithin(0, frames)
    stream.next(
      frames,
      samples.map((channel) => channel.subarray(room - frames)),
    )
    // The frames whose surroundings are now complete.
    findNeeded(room - REACH - frames, room - REACH)
    holdLowest(room - REACH - ahead - 1 - frames, room - REACH - ahead - 1)
  }

  function findNeeded(from: number, to: number): void {
    needed.fill(1, from, to)
    for (const channel of samples) {
      for (let at = from; at < to; at++) {
        const size = Math.abs(channel[at] ?? 0)
        if (size > ceiling) needed[at] = Math.min(needed[at] ?? 1, ceiling / size)
      }
      for (let at = from; at < to; at += 32) searchGroup(channel, at, Math.min(to, at + 32))
    }
  }

  function searchGroup(channel: Float64Array, from: number, to: number): void {
    let loudest = 0
    for (let at = from - COARSE_TAPS; at < to + COARSE_TAPS; at++) {
      const size = Math.abs(channel[at] ?? 0)
      if (size > loudest) loudest = size
    }
    if (loudest * COARSE_GAIN < ceiling * CANDIDATE_RATIO) return
    for (let at = from; at < to; at++) {
      const peak = peakBehind(channel, at, ceiling * CANDIDATE_RATIO)
      if (peak <= ceiling) continue
      needed[at] = Math.min(needed[at] ?? 1, ceiling / peak)
    }
  }

  function holdLowest(from: number, to: number): void {
    if ((held[from - 1] ?? 1) === 1 && isAllOne(needed, from - ahead - 1, to + ahead + 1)) {
      held.fill(1, from, to)
      return
    }
    for (let at = from; at < to; at++) {
      const before = held[at - 1] ?? 1
      let value = before === 1 ? 1 : 1 - (1 - before) * release
      if (value > 1 - 1e-7) value = 1
      for (let near = at - ahead - 1; near <= at + ahead + 1; near++) {
        const wanted = needed[near] ?? 1
        if (wanted < value) value = wanted
      }
      held[at] = value
    }
  }

  function produce(): void {
    readOn(BLOCK)
    if (!isPrimed) {
      isPrimed = true
      // The first frames stand at the end of the room; they are read on to where they can be given.
      for (let rest = lead; rest > 0; rest -= BLOCK) readOn(Math.min(BLOCK, rest))
    }
    const first = room - lead - BLOCK
    const isActive = !isAllOne(held, first - ahead, first + BLOCK + ahead)
    out.forEach((target, channel) => target.set((samples[channel] ?? target).subarray(first, first + BLOCK)))
    if (isActive) {
      for (let frame = 0; frame < BLOCK; frame++) {
        let gain = 0
        for (let place = 0; place < weights.length; place++) {
          gain += (weights[place] ?? 0) * (held[first + frame + place - ahead] ?? 1)
        }
        gains[frame] = gain
        for (const target of out) target[frame] = (target[frame] ?? 0) * gain
      }
    } else gains.fill(1)
    ready = BLOCK
    given = 0
  }

  return {
    channels: stream.channels,
    sampleRateHz: stream.sampleRateHz,
    lowestGain: () => lowest,
    forget: () => {
      lowest = 1
    },
    next: (frames, into) => {
      for (let done = 0; done < frames;) {
        if (given === ready) produce()
        const some = Math.min(frames - done, ready - given)
        into.forEach((target, channel) => {
          target.set((out[channel] ?? target).subarray(given, given + some), done)
        })
        for (let frame = given; frame < given + some; frame++) lowest = Math.min(lowest, gains[frame] ?? 1)
        given += some
        done += some
      }
    },
  }
}

function isAllOne(values: Float64Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (values[at] !== 1) return false
  return true
}

/** Smooth weights over 2 * half + 1 frames that add up to 1. */
function raisedCosine(half: number): Float64Array {
  const weights = new Float64Array(2 * half + 1)
  for (let index = 0; index < weights.length; index++) {
    weights[index] = 0.5 + 0.5 * Math.cos((Math.PI * (index - half)) / (half + 1))
  }
  const sum = weights.reduce((total, weight) => total + weight, 0)
  return weights.map((weight) => weight / sum)
}

/**
 * Largest value at and just behind a frame, read finely where a coarse look says that it may matter:
 * at the four quarter places a highest one among its neighbours is completed by a parabola.
 */
function peakBehind(samples: Float64Array, at: number, worthwhile: number): number {
  let peak = 0
  for (let phase = 0; phase < PHASES; phase++) {
    const reading = Math.abs(interpolated(samples, at, coarseTaps[phase - 1]))
    if (reading < worthwhile) continue
    const before = Math.abs(coarseAt(samples, at * PHASES + phase - 1))
    const after = Math.abs(coarseAt(samples, at * PHASES + phase + 1))
    if (reading < before || reading < after) continue
    const quarter = at * PHASES + phase
    const readings = [-2, -1, 0, 1, 2].map((step) => Math.abs(fineAt(samples, quarter + step)))
    const top = Math.max(...readings)
    const place = readings.indexOf(top)
    const left = readings[place - 1] ?? top
    const right = readings[place + 1] ?? top
    const bend = 2 * top - left - right
    peak = Math.max(peak, bend > 0 ? top + (right - left) ** 2 / (8 * bend) : top)
  }
  return peak
}

function coarseAt(samples: Float64Array, quarter: number): number {
  const phase = quarter % PHASES
  return interpolated(samples, (quarter - phase) / PHASES, coarseTaps[phase - 1])
}

function fineAt(samples: Float64Array, quarter: number): number {
  const phase = quarter % PHASES
  return interpolated(samples, (quarter - phase) / PHASES, fineTaps[phase - 1])
}

function interpolated(samples: Float64Array, at: number, taps: Float64Array | undefined): number {
  if (taps === undefined) return samples[at] ?? 0
  const first = at - taps.length / 2 + 1
  let sum = 0
  for (let index = 0; index < taps.length; index++) sum += (taps[index] ?? 0) * (samples[first + index] ?? 0)
  return sum
}
