import type { KnownFile } from '../../ports/library-records.ts'
import { findEditions } from './find-editions.ts'
import { labelsInArchive, nameEdition } from './font-name.ts'
import type { GatheredEdition } from './gathered.ts'
import type { RootScan } from './root-scan.ts'
import { scannedEdition, type HashOf } from './scanned-edition.ts'
import { treeOfPaths } from './tree-of-paths.ts'

/** An entry as it is recorded: its hash is empty where it need not be known, null where it could not be read. */
export type RecordedEntry = Pick<KnownFile, 'path' | 'sizeBytes' | 'sha256'>

/** Editions of one archive, from the entries that were read or that the last scan had read. */
export function archiveEditions(
  scan: Pick<RootScan, 'roles' | 'aboveLabel'>,
  entries: readonly RecordedEntry[],
  place: {
    readonly path: string
    readonly inner: string
    readonly label: string
    readonly outside: readonly string[]
  },
): readonly GatheredEdition[] {
  const tree = treeOfPaths(entries.map(({ path }) => path))
  const found = findEditions(tree.folders, scan.roles)
  const hashOf: HashOf = ({ folder, file }) => {
    const entry = entries[tree.origins[folder]?.[file] ?? -1]
    return entry?.sha256 ? { sha256: entry.sha256, sizeBytes: entry.sizeBytes } : null
  }
  return found.flatMap((edition) => {
    const inside = edition.path === '' ? [] : edition.path.split('/')
    const labels = labelsInArchive(place.outside, place.label, inside, found.length === 1)
    const innerPath = [place.inner, edition.path].filter((part) => part !== '').join('/')
    const name = nameEdition(labels, scan.aboveLabel)
    const scanned = scannedEdition(edition, { path: place.path, innerPath }, name, hashOf, scan.roles)
    return scanned === null ? [] : [scanned]
  })
}
