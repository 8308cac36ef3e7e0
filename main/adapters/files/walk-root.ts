import { createHash } from 'node:crypto'
import { statSync } from 'node:fs'
import { basename } from 'node:path'
import type { LookedAt, WalkedFolder, WalkedTree } from '../../../app/ports/library-files.ts'
import { pathFault } from './look-at-path.ts'
import { walkFolder } from './walk-folder.ts'

/**
 * Walks whatever was named for scanning; an archive gives one folder with that one file.
 * @throws AppError as `LibraryFiles.look` where the root itself cannot be looked at
 */
export function walkRoot(
  root: LookedAt,
  knownDigest: string | null,
  onFiles: (seen: number) => void,
): WalkedTree {
  try {
    return root.kind === 'folder'
      ? walkFolder(root.path, knownDigest, onFiles)
      : walkArchiveFile(root.path, knownDigest)
  } catch (error) {
    throw pathFault(error, root.path)
  }
}

function walkArchiveFile(path: string, knownDigest: string | null): WalkedTree {
  const facts = statSync(path, { bigint: true })
  const folder: WalkedFolder = {
    path: '',
    names: [basename(path)],
    sizesBytes: Float64Array.of(Number(facts.size)),
    modifiedNs: BigInt64Array.of(facts.mtimeNs),
    fileKeys: BigUint64Array.of(facts.ino),
    litterFolders: [],
  }
  const digest = createHash('sha256')
    .update(folder.sizesBytes)
    .update(folder.modifiedNs)
    .update(folder.fileKeys)
    .digest('hex')
  return { digest, folders: digest === knownDigest ? null : [folder], problems: [] }
}
