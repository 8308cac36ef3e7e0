import { statSync } from 'node:fs'
import { AppError } from '../../app/errors/app-error.ts'
import type { CardIdentity, CardReading } from '../../app/model/card-reading.ts'
import { openImageFile } from '../adapters/files/image-file.ts'
import { identifyFolder, readCardFolder } from '../adapters/files/read-card-folder.ts'
import { identifyImage, readCardImage } from '../adapters/files/read-card-image.ts'
import type { CardJob } from './card-messages.ts'

/** Finds out which content a card holds. @throws AppError as `CardReader.identify` */
export function identifyCard(target: string): Promise<CardIdentity> {
  return reading(target, () => identify(target))
}

/** Reads a card as a whole. @throws AppError as `CardReader.read`, Cancelled */
export function readCard(
  job: CardJob & { kind: 'read-card' },
  report: (done: number, path: string) => void,
  cancel: () => void,
): Promise<CardReading> {
  return reading(job.target, () => read(job, report, cancel))
}

async function identify(target: string): Promise<CardIdentity> {
  if (statSync(target).isDirectory()) return identifyFolder(target)
  const image = openImageFile(target)
  try {
    return await identifyImage(image)
  } finally {
    image.close()
  }
}

async function read(
  job: CardJob & { kind: 'read-card' },
  report: (done: number, path: string) => void,
  cancel: () => void,
): Promise<CardReading> {
  if (statSync(job.target).isDirectory()) return readCardFolder(job.target, report, cancel)
  const image = openImageFile(job.target)
  try {
    return await readCardImage(image, job.stretches, report, cancel)
  } finally {
    image.close()
  }
}

/** Tells what the operating system says of a target in the words of `CardReader`. */
async function reading<T>(target: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (error) {
    const code = (error as { code?: unknown }).code
    if (error instanceof AppError || typeof code !== 'string') throw error
    const isGone = code === 'ENOENT' || code === 'ENOTDIR'
    throw new AppError(
      {
        code: isGone ? 'verify/not-found' : 'verify/unreadable',
        what: isGone ? 'There is no such image or folder.' : `It cannot be read (${code}).`,
        where: target,
        mend: isGone ? 'Check the path.' : 'Check that you may read it, and that the card is well seated.',
        kind: isGone ? 'input' : 'machine',
      },
      { cause: error },
    )
  }
}
