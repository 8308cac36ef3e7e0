import { constants } from 'node:fs'
import { access, realpath, stat, statfs } from 'node:fs/promises'
import { AppError } from '../../../app/errors/app-error.ts'
import type { FoundDrive } from '../../../app/model/target.ts'
import type { CardTargets } from '../../../app/ports/card-targets.ts'
import { runCardJob } from '../../workers/run-card-job.ts'
import { targetFault } from '../files/target-faults.ts'
import { forbiddenPlace } from './forbidden-place.ts'
import { isBelow } from './mounts.ts'
import { isOnSystemDisk, removableDrives } from './removable-drives.ts'
import { surroundingsOfMachine } from './surroundings-of-machine.ts'
import { blockDevicesOfMachine, volumeBelow, volumeOf } from './volume-below.ts'

/** Cards and folders of this machine; what reads and writes files does so in a worker. */
export const cardTargets: CardTargets = {
  async listDrives() {
    const drives = removableDrives(await blockDevicesOfMachine(), surroundingsOfMachine())
    return Promise.all(
      drives.map(async ({ fileSystem, sizeBytes, ...drive }): Promise<FoundDrive> => {
        const facts = drive.path === null ? null : await statfs(drive.path).catch(() => null)
        const volume = volumeOf(fileSystem, facts)
        return { ...drive, volume: { ...volume, sizeBytes: volume.sizeBytes ?? sizeBytes } }
      }),
    )
  },

  async place(path, keepAway, spared) {
    const real = await realFolder(path)
    const { mount, volume } = await volumeBelow(real)
    const isCard = mount?.path === real
    const around = surroundingsOfMachine()
    const isWithSystem = isCard && isOnSystemDisk(real, await blockDevicesOfMachine(), around)
    return {
      path: real,
      kind: isCard ? 'card' : 'folder',
      volume,
      forbidden: forbiddenPlace(real, mount, around) ?? (isWithSystem ? 'a disk of the system' : null),
      touches: await touched(real, keepAway, spared),
    }
  },

  list: (path, planned, control) => runCardJob({ kind: 'list-folder', path, planned }, control),

  hash: (path, files, control) => runCardJob({ kind: 'hash-in-folder', path, files }, control),

  async fill(path, job, sourcePaths, control) {
    // Without a listener, a limit on the size of files ends the process instead of the write.
    process.on('SIGXFSZ', ignore)
    try {
      return await runCardJob({ kind: 'fill-folder', path, job, sourcePaths }, control)
    } finally {
      process.off('SIGXFSZ', ignore)
    }
  },
}

async function realFolder(path: string): Promise<string> {
  try {
    const real = await realpath(path)
    if (!(await stat(real)).isDirectory()) throw Object.assign(new Error(path), { code: 'ENOTDIR' })
    await access(real, constants.R_OK)
    return real
  } catch (error) {
    throw placeFault(error, path)
  }
}

function placeFault(error: unknown, where: string): unknown {
  const code = (error as NodeJS.ErrnoException).code
  if (code === 'ENOENT') {
    return new AppError(
      {
        code: 'target/missing',
        what: 'There is no such folder.',
        where,
        mend: 'Put the card in and see where it is with `cards drives`, or make the folder first.',
      },
      { cause: error },
    )
  }
  if (code === 'ENOTDIR') {
    return new AppError(
      {
        code: 'target/not-a-folder',
        what: 'It is no folder.',
        where,
        mend: 'Name the folder that the card is mounted at; `--image` writes an image.',
      },
      { cause: error },
    )
  }
  return targetFault(error, where)
}

async function touched(
  real: string,
  keepAway: readonly string[],
  spared: readonly string[],
): Promise<string | null> {
  const resolved = (path: string) => realpath(path).catch(() => path)
  for (const place of spared) if (isStrictlyBelow(real, await resolved(place))) return null
  for (const place of keepAway) {
    const other = await resolved(place)
    if (isBelow(real, other) || isBelow(other, real)) return place
  }
  return null
}

function isStrictlyBelow(path: string, folder: string): boolean {
  return path !== folder && isBelow(path, folder)
}

function ignore(): void {}
