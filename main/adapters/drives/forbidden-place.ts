import type { ForbiddenPlace } from '../../../app/model/target.ts'
import { isBelow, type Mount } from './mounts.ts'

/** What decides whether a place may be written to. */
export interface Surroundings {
  readonly platform: NodeJS.Platform
  readonly home: string
  /** Places that the running program needs: its own, the one for temporary files. */
  readonly inUse: readonly string[]
  /** Folders of the system as the environment tells them, as `%SystemRoot%`. */
  readonly systemFolders: readonly string[]
}

/** Names below the root of the system's own volume; from memory, by the hierarchies of the systems. */
const SYSTEM_NAMES: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = {
  linux: [
    ...['bin', 'boot', 'dev', 'etc', 'lib', 'lib32', 'lib64', 'libx32', 'proc', 'run', 'sbin', 'snap', 'sys'],
    ...['usr', 'var'],
  ],
  darwin: [
    'System',
    'Library',
    'Applications',
    'bin',
    'sbin',
    'usr',
    'cores',
    'etc',
    'private/etc',
    'private/var/db',
    'dev',
  ],
}
/** Folders that others lie in: naming one of them means that the name behind it was forgotten. */
const GATHERING: readonly string[] = [
  '/home',
  '/Users',
  '/Volumes',
  '/media',
  '/mnt',
  '/opt',
  '/srv',
  '/tmp',
  '/run/media',
]

/**
 * Whether nothing is ever to be written to a place, whatever the user says.
 * @param real absolute, links followed
 * @param mount what it lies on
 */
export function forbiddenPlace(
  real: string,
  mount: Mount | null,
  around: Surroundings,
): ForbiddenPlace | null {
  if (real === '/' || (/^[A-Za-z]:\\?$/.test(real) && isSystemVolume(real, around)))
    return 'the root of the system'
  if (isBelow(around.home, real)) return 'the home folder'
  const isOwnVolume = mount !== null && mount.path === real
  if (isOwnVolume && isSystemVolume(real, around)) return 'a disk of the system'
  if (around.systemFolders.some((folder) => isBelow(real, folder) || isBelow(folder, real)))
    return 'a folder of the system'
  const isOnSystem = mount === null || mount.path === '/'
  if (!isOnSystem) return null
  const names = SYSTEM_NAMES[around.platform] ?? []
  if (names.some((name) => isBelow(real, `/${name}`))) return 'a folder of the system'
  return GATHERING.includes(real) ? 'a folder that others lie in' : null
}

/** Whether the system or this program would lose the ground it stands on. */
export function isSystemVolume(root: string, { home, inUse, systemFolders }: Surroundings): boolean {
  if (root === '/' || root === '/run') return true
  if (/^\/(boot|dev|efi|gnu|nix|proc|sys|usr|var|System\/Volumes|private\/var)(\/|$)/.test(root)) return true
  return [home, ...inUse, ...systemFolders].some((place) => isBelow(place, root))
}
