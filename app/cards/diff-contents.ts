import type { Content, ContentFile, ContentFont } from '../model/content.ts'

/** How one content differs from another. */
export interface ContentsDiff {
  readonly isSameBoard: boolean
  readonly isSameGeometry: boolean
  readonly fontsOnlyInA: readonly ContentFont[]
  readonly fontsOnlyInB: readonly ContentFont[]
  readonly fontsMoved: readonly {
    readonly font: string
    readonly slotInA: number
    readonly slotInB: number
  }[]
  readonly filesOnlyInA: readonly string[]
  readonly filesOnlyInB: readonly string[]
  readonly filesChanged: readonly string[]
  readonly filesMoved: readonly { readonly from: string; readonly to: string }[]
  readonly filesSame: number
}

/**
 * Compares two contents by editions, paths and hashes. The credits and the licence record are passed
 * over: they tell the date, and so always differ.
 */
export function diffContents(a: Content, b: Content): ContentsDiff {
  const [filesOfA, filesOfB] = [byPath(a), byPath(b)]
  const both = [...filesOfA.values()].filter((file) => filesOfB.has(file.path))
  const changed = both.filter((file) => filesOfB.get(file.path)?.sha256 !== file.sha256)
  const gone = [...filesOfA.values()].filter((file) => !filesOfB.has(file.path))
  const come = [...filesOfB.values()].filter((file) => !filesOfA.has(file.path))
  const { moved, onlyInA, onlyInB } = pairMoved(gone, come)
  return {
    isSameBoard: a.boardHash === b.boardHash,
    isSameGeometry: JSON.stringify(a.geometry) === JSON.stringify(b.geometry),
    fontsOnlyInA: a.fonts.filter((font) => !hasEdition(b, font)),
    fontsOnlyInB: b.fonts.filter((font) => !hasEdition(a, font)),
    fontsMoved: a.fonts.flatMap((font) => {
      const there = b.fonts.find((other) => other.editionId === font.editionId)
      const isMoved = there !== undefined && there.slot !== font.slot
      return isMoved ? [{ font: font.fontName, slotInA: font.slot, slotInB: there.slot }] : []
    }),
    filesOnlyInA: onlyInA,
    filesOnlyInB: onlyInB,
    filesChanged: changed.map((file) => file.path),
    filesMoved: moved,
    filesSame: both.length - changed.length,
  }
}

function byPath(content: Content): Map<string, ContentFile> {
  const told = content.files.filter(({ origin }) => origin.kind !== 'credits' && origin.kind !== 'licences')
  return new Map(told.map((file) => [file.path, file]))
}

function hasEdition(content: Content, font: ContentFont): boolean {
  return content.fonts.some((other) => other.editionId === font.editionId)
}

/** Bytes that left one path and came to another, each pair once, in plan order. */
function pairMoved(
  gone: readonly ContentFile[],
  come: readonly ContentFile[],
): { moved: { from: string; to: string }[]; onlyInA: string[]; onlyInB: string[] } {
  const places = new Map<string, string[]>()
  for (const file of come) places.set(file.sha256, [...(places.get(file.sha256) ?? []), file.path])
  const moved: { from: string; to: string }[] = []
  const onlyInA: string[] = []
  for (const file of gone) {
    const to = places.get(file.sha256)?.shift()
    if (to === undefined) onlyInA.push(file.path)
    else moved.push({ from: file.path, to })
  }
  const arrived = new Set(moved.map(({ to }) => to))
  return { moved, onlyInA, onlyInB: come.map((file) => file.path).filter((path) => !arrived.has(path)) }
}
