import type { FontLook } from './font-look.ts'
import type { LicenceStanding } from './licence-standing.ts'

/** The font, or a sound that another font lends it: what one set of licences speaks of. */
export interface LicensedPart {
  /** Null for the font itself. */
  readonly path: string | null
  readonly fontName: string
  readonly creatorName: string | null
  readonly licences: readonly LicenceStanding[]
}

/** What licences are asked of; nothing where they are not to be judged. */
export function licensedParts({ edition, context }: FontLook): readonly LicensedPart[] {
  if (context.licences === null) return []
  const { name, creatorName } = edition.font
  const lent = edition.sounds.flatMap(({ path, source }): LicensedPart[] => {
    if (source === undefined || source.fontId === edition.font.id) return []
    const licences = context.lenders?.find(({ fontId }) => fontId === source.fontId)?.licences ?? []
    return [{ path, fontName: source.fontName, creatorName: source.creatorName, licences }]
  })
  return [{ path: null, fontName: name, creatorName, licences: context.licences }, ...lent]
}
