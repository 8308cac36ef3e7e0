import { isSystemVolume, type Surroundings } from './forbidden-place.ts'
import { asRoot } from './mounts.ts'

/** What is used of `systeminformation`'s block devices. */
export interface BlockDevice {
  readonly name: string
  readonly type: string
  readonly fsType: string
  readonly mount: string
  readonly size: number | string
  readonly label: string
  readonly model: string
  readonly removable: boolean
  readonly protocol: string
  readonly device?: string
}

/** A removable drive before its file system was asked. */
export interface RemovableDrive {
  readonly path: string | null
  readonly label: string
  readonly device: string
  readonly model: string
  readonly connection: string
  readonly fileSystem: string
  readonly sizeBytes: number | null
}

const OUTSIDE = /^(usb|mmc|sd|sdio|secure digital|firewire|ieee1394|thunderbolt)/i
const CARD_FILE_SYSTEM = /^(vfat|msdos|exfat|fat|ms-dos)/i
/** Neither is a drive that somebody puts in. */
const NO_DRIVE = /^(rom|loop|zram|ram|swap)/i

/**
 * The drives that a card may be in. What tells: a medium that can be taken out, a connection to the
 * outside, or, on Windows, which tells neither of many readers, a file system of cards on a disk that
 * the system does not lie on.
 */
export function removableDrives(
  devices: readonly BlockDevice[],
  around: Surroundings,
): readonly RemovableDrive[] {
  const systemDisks = new Set(
    devices.filter((device) => isOfSystem(device, around)).map((device) => diskOf(device)),
  )
  return (
    devices
      // A reader without a card in it has a drive letter on Windows, and nothing else.
      .filter((device) => device.fsType !== '' || (mountOf(device) !== null && Number(device.size) > 0))
      .filter((device) => !NO_DRIVE.test(device.type) && !NO_DRIVE.test(device.name))
      .filter((device) => !systemDisks.has(diskOf(device)))
      .flatMap((device): RemovableDrive[] => {
        const disk = devices.find((other) => other.name !== device.name && nodeOf(other) === diskOf(device))
        const connection = (device.protocol || disk?.protocol || '').toLowerCase()
        const isOutside =
          device.removable ||
          disk?.removable === true ||
          OUTSIDE.test(connection) ||
          nodeOf(device).includes('mmcblk') ||
          (around.platform === 'win32' && CARD_FILE_SYSTEM.test(device.fsType))
        if (!isOutside) return []
        const size = Number(device.size)
        return [
          {
            path: mountOf(device),
            label: device.label,
            device: nodeOf(device),
            model: device.model || disk?.model || '',
            connection,
            fileSystem: device.fsType,
            sizeBytes: Number.isSafeInteger(size) && size > 0 ? size : null,
          },
        ]
      })
      .toSorted((a, b) => order(a).localeCompare(order(b), 'en'))
  )
}

/** The physical disk that a path's volume lies on; null where the system does not tell. */
export function diskOfMount(path: string, devices: readonly BlockDevice[]): string | null {
  const device = devices.find((each) => mountOf(each) === path)
  return device === undefined ? null : diskOf(device)
}

/** Whether the system lies on the same physical disk as a volume. */
export function isOnSystemDisk(path: string, devices: readonly BlockDevice[], around: Surroundings): boolean {
  const disk = diskOfMount(path, devices)
  return disk !== null && devices.some((device) => diskOf(device) === disk && isOfSystem(device, around))
}

function isOfSystem(device: BlockDevice, around: Surroundings): boolean {
  const mount = mountOf(device)
  if (device.mount === '[SWAP]') return true
  return mount !== null && isSystemVolume(mount, around)
}

/** Mounted first, then by where they are. */
function order({ path, device }: RemovableDrive): string {
  return path === null ? `2${device}` : `1${path}`
}

function mountOf({ mount }: BlockDevice): string | null {
  return /^(\/|[A-Za-z]:)/.test(mount) ? asRoot(mount) : null
}

function diskOf(device: BlockDevice): string {
  return device.device === undefined || device.device === '' ? nodeOf(device) : device.device
}

/** Linux tells `sdb1`, macOS `/dev/disk4s1`, Windows `E:`. */
function nodeOf({ name }: BlockDevice): string {
  return /^(\/|[A-Za-z]:)/.test(name) ? name : `/dev/${name}`
}
