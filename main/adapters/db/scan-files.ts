import type { KnownFile } from '../../../app/ports/library-records.ts'
import type { Connection } from './connection.ts'

/** The list of a root's files while a scan replaces it. */
export interface ScanFiles {
  put(files: readonly KnownFile[]): void
  /** To be called once all files were put. */
  removeUnseen(): void
}

/** Rows that stay as they are cost a look and no write. */
export function startFiles(connection: Connection, rootId: string): ScanFiles {
  const put = connection.prepare(
    `INSERT INTO known_file (root_id, path, size_bytes, modified_ns, file_key, sha256)
     VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (root_id, path) DO UPDATE SET
       size_bytes = excluded.size_bytes, modified_ns = excluded.modified_ns,
       file_key = excluded.file_key, sha256 = excluded.sha256
     WHERE size_bytes <> excluded.size_bytes OR modified_ns <> excluded.modified_ns
       OR file_key <> excluded.file_key OR sha256 IS NOT excluded.sha256`,
  )
  const count = connection.prepare('SELECT count(*) FROM known_file WHERE root_id = ?').pluck()
  const wasEmpty = count.get(rootId) === 0
  const seen = new Set<string>()
  return {
    put: (files) => {
      for (const { path, sizeBytes, modifiedNs, fileKey, sha256 } of files) {
        put.run(rootId, path, sizeBytes, modifiedNs, fileKey, sha256)
        if (!wasEmpty) seen.add(path)
      }
    },
    removeUnseen: () => {
      if (wasEmpty || count.get(rootId) === seen.size) return
      const paths = connection.prepare('SELECT path FROM known_file WHERE root_id = ?').pluck()
      const remove = connection.prepare('DELETE FROM known_file WHERE root_id = ? AND path = ?')
      const unseen = (paths.all(rootId) as string[]).filter((path) => !seen.has(path))
      for (const path of unseen) remove.run(rootId, path)
    },
  }
}
