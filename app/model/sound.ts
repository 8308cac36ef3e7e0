import type { AudioFacts } from './audio-facts.ts'
import type { Measures } from './measures.ts'
import type { RoleSource, SoundPlace } from './role.ts'
import type { SoundSource } from './single-sound.ts'

/** What is known of one run of bytes by reading it once; kept by its SHA-256, whatever it is called. */
export interface SoundInspection {
  readonly sha256: string
  readonly sizeBytes: number
  /** SHA-256 over rate, channels and sample values: the same sound in another wrapper has the same. */
  readonly sampleHash: string | null
  readonly facts: AudioFacts | null
  readonly measures: Measures | null
  /** Why there are no facts or measures, in one sentence with a stable code. */
  readonly problem: { readonly code: string; readonly message: string } | null
}

/** One audio file of an edition. */
export interface Sound {
  readonly id: string
  readonly editionId: string
  /** Inside the edition, parts joined by `/`. */
  readonly path: string
  readonly place: SoundPlace | null
  readonly roleSource: RoleSource | null
  readonly inspection: SoundInspection
  /** Set where a build plays it in a font that it is not of: then `path` is what it is called there. */
  readonly source?: SoundSource
}

/** Any other file that belongs with an edition. */
export interface Companion {
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
  readonly kind: 'text' | 'picture' | 'document' | 'other'
}
