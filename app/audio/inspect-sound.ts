import type { AudioFacts } from '../model/audio-facts.ts'
import type { Measures } from '../model/measures.ts'
import type { ByteSource, CancelCheck, NewHasher } from '../ports/bytes.ts'
import { ENVELOPE_FRAMES, type Kernel } from '../ports/kernel.ts'
import type { InspectedSound } from '../ports/sound-inspector.ts'
import { cannotMeasure, Measuring } from './measure/measuring.ts'
import { noMeasures } from './measure/no-measures.ts'
import { SampleLook } from './measure/sample-look.ts'
import { WaveformBuilder } from './peaks/waveform.ts'
import { SampleHash } from './sample-hash.ts'
import { KIND_NAMES, sniffKind, type SoundKind } from './sniff-kind.ts'
import { openWav } from './wav/open-wav.ts'
import { ENCODING_BYTES, isKernelReady, toKernelBytes, type SampleLayout } from './wav/sample-layout.ts'

export interface InspectionTools {
  readonly kernel: Kernel
  readonly newHasher: NewHasher
  readonly cancel: CancelCheck
}

/** What one pass over the bytes gave. */
export interface SoundReading extends InspectedSound {
  /** What the file is by its first bytes. */
  readonly kind: SoundKind
  /** Whether there is sound in it that only another decoder can turn into samples. */
  readonly needsDecoder: boolean
}

interface SamplesRead {
  readonly sampleHash: string | null
  readonly measures: Measures
  readonly peaks: Uint8Array | null
  readonly wildSamples: number
}

/** Small files fit whole in the first read; large ones are read on in pieces of this size. */
const PIECE_BYTES = 1 << 18

/**
 * Reads a sound once, from its first byte to its last: SHA-256 of the file, facts and defects of its
 * container, all measures, the hash of its samples, and its waveform. Pure and synchronous; memory
 * does not grow with the file but for 1.2 KB a second of sound. A few stretches of at most 4096
 * frames are looked at again at the end (where sound begins and ends). Never throws for what is in
 * the file.
 * @throws Cancelled, and what the source throws where reading fails
 */
export function inspectSound(source: ByteSource, tools: InspectionTools): SoundReading {
  const { kernel } = tools
  const pieceBytes = Math.min(PIECE_BYTES, kernel.input.length)
  const headBytes = source.readInto(kernel.input.subarray(0, pieceBytes), 0)
  const head = kernel.input.subarray(0, headBytes)
  const reading = openWav(source, head)
  const kind = reading === undefined ? sniffKind(head) : 'wav'
  const pass = new OnePass(source, tools, headBytes)
  const samples = pass.run(reading?.layout)
  const base = { sha256: pass.sha256, sizeBytes: source.sizeBytes }
  if (reading === undefined) return unknownSound(base, kind)
  const unread = reading.layout === undefined && isCodedSound(reading.facts)
  return {
    kind,
    needsDecoder: unread,
    inspection: {
      ...base,
      sampleHash: samples?.sampleHash ?? null,
      facts: withWildSamples(reading.facts, reading.layout, samples?.wildSamples ?? 0),
      measures: samples?.measures ?? noMeasures(unread ? 'coding-not-decoded' : 'no-samples'),
      problem: null,
    },
    peaks: samples?.peaks ?? null,
  }
}

function isCodedSound(facts: AudioFacts): boolean {
  const hasData = facts.chunks.some(({ id, sizeBytes }) => id === 'data' && sizeBytes > 0)
  return (
    hasData &&
    facts.formatTag !== null &&
    facts.channels !== null &&
    facts.coding !== 'pcm' &&
    facts.coding !== 'float'
  )
}

function unknownSound(base: { sha256: string; sizeBytes: number }, kind: SoundKind): SoundReading {
  const isEmpty = base.sizeBytes === 0
  const problem =
    kind !== 'other'
      ? { code: 'sound/needs-decoder', message: `This is ${KIND_NAMES[kind]}, not a WAV.` }
      : isEmpty
        ? { code: 'sound/empty', message: 'The file is empty.' }
        : {
            code: 'sound/not-recognised',
            message: `This is ${KIND_NAMES.other}; its first bytes are those of no sound format.`,
          }
  return {
    kind,
    needsDecoder: kind !== 'other',
    inspection: { ...base, sampleHash: null, facts: null, measures: null, problem },
    peaks: null,
  }
}

function withWildSamples(
  facts: AudioFacts,
  layout: SampleLayout | undefined,
  wildSamples: number,
): AudioFacts {
  if (wildSamples === 0 || layout === undefined) return facts
  const message = `${wildSamples} samples are no numbers, infinite or far beyond full scale; they were measured as silence.`
  return { ...facts, defects: [...facts.defects, { code: 'wild-samples', offset: layout.dataAt, message }] }
}

/**
 * The pass: pieces of the file go through the file's hash, and what of them is samples through the
 * kernel and the hash of samples. The pieces lie in the kernel's own input, so nothing is copied but
 * the frames that a piece cuts.
 */
class OnePass {
  sha256 = ''
  readonly #source: ByteSource
  readonly #tools: InspectionTools
  readonly #input: Uint8Array
  /** Bytes from the start of the file that lie in the input already. */
  readonly #headBytes: number

  constructor(source: ByteSource, tools: InspectionTools, headBytes: number) {
    this.#source = source
    this.#tools = tools
    this.#input = tools.kernel.input
    this.#headBytes = headBytes
  }

  run(layout: SampleLayout | undefined): SamplesRead | undefined {
    const hasher = this.#tools.newHasher()
    const reason = layout === undefined ? 'no-samples' : cannotMeasure(layout)
    const samples =
      layout === undefined || reason !== undefined
        ? undefined
        : new SamplePass(this.#source, layout, this.#tools)
    let kept = 0
    let at = 0
    let isFirst = true
    while (isFirst || at < this.#source.sizeBytes) {
      this.#tools.cancel()
      const read = isFirst ? this.#headBytes : this.#source.readInto(this.#pieceAfter(kept), at)
      isFirst = false
      if (read === 0) break
      hasher.update(this.#input.subarray(kept, kept + read))
      at += read
      kept = samples?.take(this.#input, kept + read, at) ?? 0
    }
    this.sha256 = hasher.digestHex()
    if (layout !== undefined && reason !== undefined) {
      return { sampleHash: null, measures: noMeasures(reason), peaks: null, wildSamples: 0 }
    }
    return samples?.finish()
  }

  #pieceAfter(kept: number): Uint8Array {
    return this.#input.subarray(kept, Math.min(kept + PIECE_BYTES, this.#input.length))
  }
}

class SamplePass {
  readonly #layout: SampleLayout
  readonly #measuring: Measuring
  readonly #hash: SampleHash
  readonly #waveform: WaveformBuilder
  readonly #look: SampleLook
  #framesDone = 0

  constructor(source: ByteSource, layout: SampleLayout, tools: InspectionTools) {
    this.#layout = layout
    this.#measuring = new Measuring(tools.kernel, layout)
    this.#hash = new SampleHash(layout, tools.newHasher)
    this.#waveform = new WaveformBuilder(layout.frames, layout.frameBytes)
    this.#look = new SampleLook(source, layout)
  }

  /**
   * Takes what is samples among `length` bytes of `input`, of which the last is followed by byte
   * `fileAt` of the file.
   * @returns how many bytes, moved to the front of `input`, wait for the rest of their frame
   */
  take(input: Uint8Array, length: number, fileAt: number): number {
    const { dataAt, frameBytes, frames, channels, encoding } = this.#layout
    const startsAt = fileAt - length
    const nextAt = dataAt + this.#framesDone * frameBytes
    const from = nextAt - startsAt
    if (this.#framesDone === frames || from >= length) return 0
    const present = Math.floor((length - from) / frameBytes)
    const rest = frames - this.#framesDone
    const count = present >= rest ? rest : present - (present % ENVELOPE_FRAMES)
    if (count > 0) {
      if (!isKernelReady(this.#layout)) toKernelBytes(input, from, count, this.#layout)
      this.#hash.add(input.subarray(from, from + count * channels * ENCODING_BYTES[encoding]))
      const { lowest, highest } = this.#measuring.feed(from, count)
      this.#waveform.add(lowest, highest)
      this.#framesDone += count
    }
    if (this.#framesDone === frames) return 0
    input.copyWithin(0, from + count * frameBytes, length)
    return length - from - count * frameBytes
  }

  finish(): SamplesRead {
    const { measures, wildSamples } = this.#measuring.finish(this.#look)
    return { sampleHash: this.#hash.digestHex(), measures, peaks: this.#waveform.pack(), wildSamples }
  }
}
