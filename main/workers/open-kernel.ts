import { KERNEL_BASE64 } from '../../app/audio/kernel/kernel-bytes.ts'
import { STEP_CLASSES } from '../../app/audio/kernel/step-classes.ts'
import {
  COARSE_TAPS,
  coarseTaps,
  FINE_TAPS,
  fineReadingBounds,
  fineTaps,
} from '../../app/audio/kernel/true-peak-taps.ts'
import type { Kernel, KernelEncoding, KernelSetup } from '../../app/ports/kernel.ts'

/** What the WebAssembly module exports; see app/audio/kernel/assembly/index.ts. */
export interface KernelExports {
  readonly memory: { readonly buffer: ArrayBuffer }
  readonly wildSamples: { readonly value: number }
  readonly binCount: { readonly value: number }
  readonly hopCount: { readonly value: number }
  inputAt(): number
  inputBytes(): number
  coarseTapsAt(): number
  fineTapsAt(): number
  binLowestAt(): number
  binHighestAt(): number
  hopLoudnessAt(): number
  hopEnergyAt(): number
  stepCountsAt(channel: number): number
  memoryEnd(): number
  begin(encoding: number, channels: number, hopRateHz: number, fullScale: number): void
  setWeight(channel: number, weight: number): void
  setFilters(...coefficients: number[]): void
  setPeakBounds(bend: number, rest: number): void
  setSkipping(on: boolean): void
  feed(at: number, frames: number): void
  finish(silentFrames: number): void
  sumOf(channel: number): number
  squaresOf(channel: number): number
  cutEnergyOf(channel: number): number
  samplePeakOf(channel: number): number
  truePeakOf(channel: number): number
  clippedRunsOf(channel: number): number
}

/** Node has it; the type definitions leave it to those of browsers, which this layer does not load. */
declare const WebAssembly: {
  readonly Module: new (bytes: Uint8Array) => object
  readonly Instance: new (module: object) => { readonly exports: unknown }
}

const ENCODINGS: readonly KernelEncoding[] = ['u8', 's16', 's24', 's32', 'f32', 'f64']

/** The fast kernel. Its input is memory of the module itself, so that files are read straight into it. */
export function openKernel(): Kernel {
  return kernelOver(instantiateKernel())
}

/** A fresh instance of the module, with its taps in place. */
export function instantiateKernel(): KernelExports {
  const module = new WebAssembly.Module(Buffer.from(KERNEL_BASE64, 'base64'))
  const kernel = new WebAssembly.Instance(module).exports as unknown as KernelExports
  if (kernel.memoryEnd() > kernel.memory.buffer.byteLength)
    throw new RangeError('the kernel needs more memory pages')
  const coarse = new Float32Array(kernel.memory.buffer, kernel.coarseTapsAt(), 3 * COARSE_TAPS)
  const fine = new Float64Array(kernel.memory.buffer, kernel.fineTapsAt(), 3 * FINE_TAPS)
  coarseTaps.forEach((taps, index) => coarse.set(taps, index * COARSE_TAPS))
  fineTaps.forEach((taps, index) => fine.set(taps, index * FINE_TAPS))
  const { bend, rest } = fineReadingBounds()
  kernel.setPeakBounds(bend, rest)
  return kernel
}

/** The port over an instance. */
export function kernelOver(kernel: KernelExports): Kernel {
  const { buffer } = kernel.memory
  let channels = 1
  const perChannel = (read: (channel: number) => number) =>
    Array.from({ length: channels }, (_, channel) => read(channel))
  return {
    input: new Uint8Array(buffer, kernel.inputAt(), kernel.inputBytes()),
    begin: (setup) => {
      channels = setup.channels
      beginSound(kernel, setup)
    },
    feed: (at, frames) => {
      kernel.feed(at, frames)
      const bins = kernel.binCount.value
      const hops = kernel.hopCount.value
      return {
        binLowest: new Float32Array(buffer, kernel.binLowestAt(), bins),
        binHighest: new Float32Array(buffer, kernel.binHighestAt(), bins),
        hopLoudness: new Float64Array(buffer, kernel.hopLoudnessAt(), hops),
        hopEnergy: new Float64Array(buffer, kernel.hopEnergyAt(), hops * channels),
      }
    },
    finish: (silentFrames) => {
      kernel.finish(silentFrames)
      return {
        tailLoudness: new Float64Array(buffer, kernel.hopLoudnessAt(), 1)[0] ?? 0,
        sums: perChannel(kernel.sumOf),
        squareSums: perChannel(kernel.squaresOf),
        lowCutEnergy: perChannel(kernel.cutEnergyOf).reduce((sum, energy) => sum + energy, 0),
        samplePeak: Math.max(...perChannel(kernel.samplePeakOf)),
        truePeak: Math.max(...perChannel(kernel.truePeakOf)),
        clippedRuns: perChannel(kernel.clippedRunsOf).reduce((sum, runs) => sum + runs, 0),
        wildSamples: kernel.wildSamples.value,
        stepCounts: Array.from({ length: channels }, (_, channel) => {
          return new Uint32Array(buffer, kernel.stepCountsAt(channel), STEP_CLASSES)
        }),
      }
    },
  }
}

function beginSound(kernel: KernelExports, setup: KernelSetup): void {
  const { weightingHighPass: pass, weightingShelf: shelf, lowCut } = setup.filters
  kernel.begin(ENCODINGS.indexOf(setup.encoding), setup.channels, setup.hopRateHz, setup.fullScale)
  kernel.setFilters(pass.a1, pass.a2, shelf.b0, shelf.b1, shelf.b2, shelf.a1, shelf.a2, lowCut.a1, lowCut.a2)
  setup.channelWeights.forEach((weight, channel) => kernel.setWeight(channel, weight))
}
