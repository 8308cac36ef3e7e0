import type { RequestOf } from '../../contract/calls.ts'
import { AppError } from '../../errors/app-error.ts'
import type { ContentFile } from '../../model/content.ts'
import type { Edition } from '../../model/library.ts'
import type { PreparedFile } from '../../ports/prepared-folders.ts'
import type { RunControl } from '../../ports/progress.ts'
import { bringIn } from '../card-bytes.ts'
import { cardContentsOf } from '../card-files.ts'
import type { CardOrder } from '../card-order.ts'
import type { PreparePorts } from './prepare-ports.ts'

/** A font at the end of a run, as far as writing it goes. */
export interface FontToWrite {
  readonly edition: Edition
  /** The first of its sounds that could not be prepared; null where all are as they should be. */
  readonly failed: string | null
}

/** Where a font was written, or why it was not. */
export interface WrittenFont {
  /** Below the folder asked for; null where it was not written. */
  readonly folder: string | null
  readonly told: readonly string[]
}

/**
 * Writes prepared fonts as folders in the board's naming, where a request asks for it. Only whole fonts
 * are written: a folder with one sound as it came would pass for a prepared one, and stand in the way of
 * the next run.
 * @throws AppError of `PreparedFolders` and of the store; Cancelled
 */
export async function writeInto(
  { into, dryRun }: Pick<RequestOf<'prepare'>, 'into' | 'dryRun'>,
  order: CardOrder,
  toWrite: readonly FontToWrite[],
  ports: PreparePorts,
  control: RunControl,
): Promise<readonly WrittenFont[]> {
  if (into === undefined || dryRun === true) return toWrite.map(() => ({ folder: null, told: [] }))
  const editions = toWrite.map(({ edition }) => edition)
  const { fonts } = cardContentsOf({ ...order, editions, build: null }, ports.newHasher)
  const found: PreparedFile[] = []
  const written: WrittenFont[] = []
  for (const [index, { folder, files }] of fonts.entries()) {
    const failed = toWrite[index]?.failed ?? null
    const why =
      failed === null ? await reasonAgainst(files, ports, control) : `${failed} could not be prepared.`
    if (why === null) found.push(...(await whereTheyLie(files, ports)))
    written.push(why === null ? { folder, told: [] } : { folder: null, told: [`Not written: ${why}`] })
  }
  await ports.folders.write(into, found, control)
  return written
}

/** Why bytes of a font cannot be had, in words; null where all are in the store now. */
async function reasonAgainst(
  files: readonly Pick<ContentFile, 'origin' | 'sizeBytes' | 'sha256'>[],
  ports: PreparePorts,
  control: RunControl,
): Promise<string | null> {
  try {
    await bringIn(files, ports, control)
    return null
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'originals/gone') throw error
    return `${error.what} ${error.mend}`
  }
}

async function whereTheyLie(
  files: readonly Pick<ContentFile, 'path' | 'sizeBytes' | 'sha256'>[],
  { store }: Pick<PreparePorts, 'store'>,
): Promise<readonly PreparedFile[]> {
  const found: PreparedFile[] = []
  for (const { path, sizeBytes, sha256 } of files) {
    const sourcePath = sizeBytes === 0 ? null : await store.pathOf(sha256)
    if (sourcePath !== undefined) found.push({ path, sourcePath, sha256 })
  }
  return found
}
