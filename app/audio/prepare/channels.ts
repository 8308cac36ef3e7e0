import { eachBlock, newSamples, BLOCK_FRAMES, type SampleSource, type Samples } from './sample-source.ts'

/** A sum that keeps less than this of the power that unrelated channels would keep: they cancel. */
const CANCELS_BELOW = 0.25

export interface PhaseCheck {
  /** Power of the sum against that of channels that have nothing in common, in dB; null for silence. */
  readonly sumDb: number | null
  readonly cancels: boolean
  /** The channel that carries most. */
  readonly loudest: number
}

/**
 * Whether the channels of a sound can be summed. Two equal channels give +3 dB, two unrelated ones
 * 0 dB, two opposite ones nothing at all; below -6 dB they are taken to cancel.
 */
export function checkPhase(source: SampleSource): PhaseCheck {
  const powers = new Float64Array(source.channels)
  let sumPower = 0
  const sum = new Float64Array(BLOCK_FRAMES)
  eachBlock(source, (block) => {
    const frames = block[0]?.length ?? 0
    sum.fill(0, 0, frames)
    for (let channel = 0; channel < block.length; channel++) {
      const samples = block[channel] ?? sum
      let power = 0
      for (let frame = 0; frame < frames; frame++) {
        const sample = samples[frame] ?? 0
        power += sample * sample
        sum[frame] = (sum[frame] ?? 0) + sample
      }
      powers[channel] = (powers[channel] ?? 0) + power
    }
    let power = 0
    for (let frame = 0; frame < frames; frame++) {
      const sample = sum[frame] ?? 0
      power += sample * sample
    }
    sumPower += power / block.length
  })
  const mean = powers.reduce((total, power) => total + power, 0) / Math.max(1, source.channels)
  const share = mean === 0 ? null : sumPower / mean
  return {
    sumDb: share === null ? null : 10 * Math.log10(Math.max(share, 1e-12)),
    cancels: share !== null && share < CANCELS_BELOW,
    loudest: powers.indexOf(Math.max(...powers)),
  }
}

/** Sum of all channels, each lowered so that unrelated ones keep their mean power: -3 dB for two. */
function sumOf(samples: Samples, frames: number, target: Float64Array): void {
  const gain = 1 / Math.sqrt(samples.length)
  target.fill(0, 0, frames)
  for (const channel of samples) {
    for (let frame = 0; frame < frames; frame++) {
      target[frame] = (target[frame] ?? 0) + (channel[frame] ?? 0) * gain
    }
  }
}

/**
 * Folds channels: to one, the sum of all; to several, channel c goes to place c modulo the number of
 * places (left and right of the usual layouts stand at even and odd places).
 */
export function folded(source: SampleSource, to: number): SampleSource {
  return mapped(source, to, (samples, frames, into) => {
    into.forEach((target, place) => {
      sumOf(
        samples.filter((_, channel) => channel % to === place),
        frames,
        target,
      )
    })
  })
}

/** One channel of a source as a source of its own. @param kept its index, from 0 */
export function oneChannel(source: SampleSource, kept: number): SampleSource {
  return mapped(source, 1, (samples, frames, into) => {
    const channel = samples[kept]
    if (channel !== undefined) into[0]?.set(channel.subarray(0, frames))
  })
}

/** The same sound from several channels, as loud as it was from its own. */
export function spread(source: SampleSource, to: number): SampleSource {
  return mapped(source, to, (samples, frames, into) => {
    const gain = Math.sqrt(samples.length / to)
    into.forEach((target, place) => {
      const channel = samples[place % samples.length]
      for (let frame = 0; frame < frames; frame++) target[frame] = (channel?.[frame] ?? 0) * gain
    })
  })
}

function mapped(
  source: SampleSource,
  channels: number,
  map: (samples: Samples, frames: number, into: Samples) => void,
): SampleSource {
  const room = newSamples(source.channels, BLOCK_FRAMES)
  return {
    channels,
    frames: source.frames,
    sampleRateHz: source.sampleRateHz,
    read: (from, frames, into) => {
      for (let done = 0; done < frames; done += BLOCK_FRAMES) {
        const count = Math.min(BLOCK_FRAMES, frames - done)
        source.read(from + done, count, room)
        map(
          room,
          count,
          into.map((target) => target.subarray(done, done + count)),
        )
      }
    },
  }
}
