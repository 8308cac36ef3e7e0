import type { RuleChange } from './finding.ts'
import type { Recipe } from './recipe.ts'
import type { Build } from './records.ts'
import type { SingleSound } from './single-sound.ts'

/** Geometry of a card's one partition and its FAT volume. All that the image's layout depends on. */
export interface CardGeometry {
  readonly fatType: 'fat16' | 'fat32'
  readonly sectorBytes: number
  readonly clusterBytes: number
  readonly imageBytes: number
  readonly partitionStartSector: number
  readonly partitionSectors: number
  readonly reservedSectors: number
  readonly fatSectors: number
  readonly rootEntryCount: number
  readonly clusterCount: number
}

/** One file of a content, as recorded. */
export interface ContentFile {
  /** On the card, `/`-joined, from the root. */
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
  readonly firstCluster: number
  readonly clusterCount: number
  /** What it was made from: an edition's sound or companion, or a document that Cardwright wrote. */
  readonly origin:
    | { readonly kind: 'sound' | 'companion'; readonly editionId: string; readonly path: string }
    | { readonly kind: 'config' | 'credits' | 'licences' }
}

/** A font on a card, numbered as the board counts. */
export interface ContentFont {
  readonly slot: number
  readonly folder: string
  readonly editionId: string
  readonly fontId: string
  readonly fontName: string
  readonly version: string
  readonly creatorName: string | null
  readonly sizeBytes: number
}

/** The record of what was made: enough to make the same image again from the store. */
export interface Content {
  /** Ten characters of Crockford base32; the volume's label. */
  readonly fingerprint: string
  readonly createdAt: string
  readonly boardId: string
  readonly boardHash: string
  /** The build that it was first made for; null where it was only made of fonts. */
  readonly buildId: string | null
  /** Other builds that the same content was made for since, in that order; absent where there are none. */
  readonly furtherBuildIds?: readonly string[]
  readonly geometry: CardGeometry
  /** Fixed when first made: dates on the card and the volume's serial come from it. */
  readonly fonts: readonly ContentFont[]
  readonly files: readonly ContentFile[]
  /** SHA-256 over (offset, length, SHA-256) of the plan's extents, as in app/cards/FORMAT.md. */
  readonly imageHash: string
  readonly toolVersion: string
  /**
   * Credits and licence records that cards of this content were given before the licences on record
   * changed: such a card is still what it was made as. Absent where there are none.
   */
  readonly formerDocuments?: readonly { readonly path: string; readonly sha256: string }[]
  /** The build's config as it was; absent where the card has none. */
  readonly config?: NonNullable<Build['config']>
  /** Single sounds of the build that were added, replaced or left out; absent where there were none. */
  readonly singleSounds?: readonly SingleSound[]
  /** Fonts that lent such sounds, as they were called then. */
  readonly lenders?: readonly Pick<ContentFont, 'editionId' | 'fontId' | 'fontName' | 'version'>[]
  /** How prepared sounds were made of their originals; absent where all are as they came. */
  readonly recipes?: readonly MadeByRecipe[]
  readonly acceptedFindings: readonly {
    readonly rule: string
    readonly path: string | null
    readonly reason: string
  }[]
  /** Rules that the build switched off or weighed anew when this was made; absent where it changed none. */
  readonly ruleChanges?: readonly RuleChange[]
}

/** A prepared sound of a content: which original, and what was done to it. */
export interface MadeByRecipe {
  readonly sha256: string
  readonly originalSha256: string
  readonly recipe: Recipe
}
