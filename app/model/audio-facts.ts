/** What the bytes of a sound file are, as found; no size field is taken on trust. */
export type Container = 'riff' | 'rifx' | 'rf64' | 'bw64' | 'other'
export type Coding = 'pcm' | 'float' | 'alaw' | 'mulaw' | 'adpcm' | 'other'

/** One chunk of the container. `offset` is that of its 8-byte header, from the start of the file. */
export interface ChunkFact {
  readonly id: string
  readonly offset: number
  readonly sizeBytes: number
}

/** A loop of the `smpl` chunk; `start` and `end` in frames as stored (`end` inclusive). */
export interface LoopFact {
  readonly start: number
  readonly end: number
}

/** A fault of the file's structure. `offset` is the byte where it shows. Data, not an error. */
export interface Defect {
  readonly code: string
  readonly offset: number
  readonly message: string
}

export interface AudioFacts {
  readonly container: Container
  readonly coding: Coding
  readonly formatTag: number | null
  readonly channels: number | null
  readonly sampleRateHz: number | null
  /** Bits of the sample's container (wBitsPerSample). */
  readonly bitDepth: number | null
  /** Bits that carry sound (wValidBitsPerSample), equal to `bitDepth` unless the file tells otherwise. */
  readonly validBits: number | null
  /** Frames by what is really there. */
  readonly frames: number | null
  readonly seconds: number | null
  readonly chunks: readonly ChunkFact[]
  readonly loops: readonly LoopFact[]
  readonly tags: Readonly<Record<string, string>>
  readonly defects: readonly Defect[]
}
