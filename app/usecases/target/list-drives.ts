import type { ResponseOf } from '../../contract/calls.ts'
import type { TargetPorts } from './target-ports.ts'
import { contentHeldAt } from './target-holds.ts'

/** Removable drives to choose from, each with the content that its credits name. */
export async function listDrives(
  ports: Pick<TargetPorts, 'targets' | 'reader'>,
): Promise<ResponseOf<'drives:list'>> {
  const drives = await ports.targets.listDrives()
  return {
    drives: await Promise.all(
      drives.map(async ({ volume, ...drive }) => {
        const { fileSystem, clusterBytes, sizeBytes, freeBytes } = volume
        const holds = drive.path === null ? null : await contentHeldAt(drive.path, ports)
        return { ...drive, fileSystem, clusterBytes, sizeBytes, freeBytes, holds }
      }),
    ),
  }
}
