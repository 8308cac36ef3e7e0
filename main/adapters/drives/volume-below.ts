import { realpath, statfs } from 'node:fs/promises'
import type { TargetVolume } from '../../../app/model/target.ts'
import { fileSystemOf } from './file-system-words.ts'
import { mountOf, mountsOfMachine, type Mount } from './mounts.ts'
import type { BlockDevice } from './removable-drives.ts'

/** The volume that a folder lies on, and where that is mounted. */
export interface VolumeBelow {
  readonly mount: Mount | null
  readonly volume: TargetVolume
}

/** @param real absolute, links followed */
export async function volumeBelow(real: string): Promise<VolumeBelow> {
  const mount = mountOf(real, await mountsOfMachine())
  const told = await toldFileSystem(mount)
  return { mount, volume: volumeOf(told, await statfs(real).catch(() => null)) }
}

/** Whether a folder's file system keeps names in the order in which they were made. */
export async function keepsEntryOrder(folder: string): Promise<boolean> {
  const real = await realpath(folder).catch(() => folder)
  const { volume } = await volumeBelow(real).catch(() => ({ volume: null }))
  return volume?.isFat === true
}

/** What the operating system's own tool says of all block devices; none where it says nothing. */
export async function blockDevicesOfMachine(): Promise<readonly BlockDevice[]> {
  const { blockDevices } = await import('systeminformation')
  const devices: readonly (BlockDevice | undefined)[] = (await blockDevices().catch(() => null)) ?? []
  // Of macOS the list starts with a gap.
  return devices.flatMap((device) => device ?? [])
}

export interface VolumeFacts {
  readonly bsize: number
  readonly blocks: number
  readonly bavail: number
}

/** @param facts a file system that counts no blocks at all does not tell */
export function volumeOf(told: string, facts: VolumeFacts | null): TargetVolume {
  const isTold = facts !== null && facts.blocks > 0
  return {
    ...fileSystemOf(told, isTold ? facts.blocks : null),
    clusterBytes: isTold ? facts.bsize : null,
    sizeBytes: isTold ? facts.blocks * facts.bsize : null,
    freeBytes: isTold ? facts.bavail * facts.bsize : null,
  }
}

/** Where a program outside the kernel serves it, what it is stands with the device; macOS says more there. */
async function toldFileSystem(mount: Mount | null): Promise<string> {
  if (mount === null) return ''
  if (mount.fileSystem !== 'fuseblk' && process.platform !== 'darwin') return mount.fileSystem
  const device = (await blockDevicesOfMachine()).find((each) => each.mount === mount.path)
  return device?.fsType || mount.fileSystem
}
