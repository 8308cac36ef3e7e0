import type { ResponseOf } from '../contract/calls.ts'
import type { LookedAt } from '../ports/library-files.ts'
import type { RunControl } from '../ports/progress.ts'
import type { ScanPorts } from './scan/scan-ports.ts'
import { scanRoot, type RootReport } from './scan/scan-root.ts'

/**
 * Scans folders and archives: finds the editions in them, reads each file that is new or changed
 * once, and records what was found. All paths are looked at before the first is scanned, so that a
 * wrong one changes nothing. One bad file never stops a scan: it is among the root's `problems`.
 *
 * @param request `passwords` by archive path; used for this scan only, kept and logged nowhere
 * @throws AppError `scan/no-such-path`, `scan/not-a-folder-or-archive`, `scan/archive-kind`,
 *   `scan/no-permission`, `lock/held`; Cancelled
 */
export async function scanLibrary(
  ports: ScanPorts,
  request: {
    readonly paths: readonly string[]
    readonly passwords?: Readonly<Record<string, string>> | undefined
  },
  control: RunControl,
): Promise<ResponseOf<'scan'>> {
  const begunMs = ports.elapsedMs()
  const passwords = new Map(Object.entries(request.passwords ?? {}))
  const files = ports.openFiles()
  try {
    const looked = new Map<string, LookedAt>()
    for (const path of request.paths) {
      const root = await files.look(path)
      looked.set(root.path, root)
    }
    const roots: RootReport[] = []
    for (const root of looked.values()) roots.push(await scanRoot(ports, files, root, passwords, control))
    return { roots, seconds: (ports.elapsedMs() - begunMs) / 1000 }
  } finally {
    await files.close()
  }
}
