import type { SoundPlace } from './role.ts'

/** A sound of the library, by where it lies. */
export interface SoundOfEdition {
  readonly editionId: string
  /** Inside the edition. */
  readonly path: string
}

/**
 * One sound in which a build plays otherwise than its fonts as they came. `editionId` is the font of
 * the build that it concerns; where that font is not in the build, it waits and changes nothing.
 */
export type SingleSound =
  | {
      readonly kind: 'added'
      readonly editionId: string
      readonly sound: SoundOfEdition
      /** What it is for there; null for what it is for where it comes from. */
      readonly place: SoundPlace | null
    }
  /** Plays in the place of the sound at `path`. */
  | {
      readonly kind: 'replaced'
      readonly editionId: string
      readonly path: string
      readonly sound: SoundOfEdition
    }
  | { readonly kind: 'left-out'; readonly editionId: string; readonly path: string }

/** Where a sound lies in truth that a build plays in another font, and to whom it belongs. */
export interface SoundSource extends SoundOfEdition {
  readonly fontId: string
  readonly fontName: string
  readonly version: string
  readonly creatorName: string | null
}
