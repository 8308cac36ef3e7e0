import { readFile } from 'node:fs/promises'

/** A file system where it is mounted. */
export interface Mount {
  /** Absolute; a drive of Windows ends with its backslash. */
  readonly path: string
  /** As the system calls it. */
  readonly fileSystem: string
  /** Empty where none stands behind it. */
  readonly device: string
}

/** All mounts of this machine. */
export async function mountsOfMachine(): Promise<readonly Mount[]> {
  if (process.platform === 'linux') return parseMountInfo(await readFile('/proc/self/mountinfo', 'utf8'))
  const { fsSize } = await import('systeminformation')
  return (await fsSize()).map(({ mount, type, fs }) => ({
    path: asRoot(mount),
    fileSystem: type,
    device: fs,
  }))
}

/** `/proc/self/mountinfo`: proc(5). Later mounts hide earlier ones of the same place. */
export function parseMountInfo(text: string): readonly Mount[] {
  const mounts = new Map<string, Mount>()
  for (const line of text.split('\n')) {
    const [before = '', after = ''] = line.split(' - ', 2)
    const point = before.split(' ')[4]
    const [fileSystem = '', device = ''] = after.split(' ')
    if (point === undefined) continue
    const path = unescaped(point)
    mounts.set(path, { path, fileSystem, device: device.startsWith('/') ? unescaped(device) : '' })
  }
  return [...mounts.values()]
}

/** The mount that a path lies on: the one with the longest path of those around it. */
export function mountOf(path: string, mounts: readonly Mount[]): Mount | null {
  return mounts
    .filter((mount) => isBelow(path, mount.path))
    .reduce<Mount | null>(
      (best, mount) => (best === null || mount.path.length > best.path.length ? mount : best),
      null,
    )
}

/** Whether a path is a folder or lies below it; both absolute, of the same system. */
export function isBelow(path: string, folder: string): boolean {
  if (/^[A-Za-z]:/.test(folder)) {
    const [lower, start] = [`${path}\\`.toUpperCase(), folder.toUpperCase()]
    return lower.startsWith(start.endsWith('\\') ? start : `${start}\\`)
  }
  return path === folder || path.startsWith(folder.endsWith('/') ? folder : `${folder}/`)
}

/** Windows tells a drive as `E:`, which as a path would be that drive's current folder. */
export function asRoot(mount: string): string {
  return /^[A-Za-z]:$/.test(mount) ? `${mount}\\` : mount
}

/** Spaces and the like stand in octal. */
function unescaped(text: string): string {
  return text.replace(/\\([0-7]{3})/g, (_, octal: string) => String.fromCharCode(parseInt(octal, 8)))
}
