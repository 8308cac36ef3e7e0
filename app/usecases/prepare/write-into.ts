import type { RequestOf } from '../../contract/calls.ts'
import type { Edition } from '../../model/library.ts'
import type { PreparedFile } from '../../ports/prepared-folders.ts'
import type { RunControl } from '../../ports/progress.ts'
import { bringIn } from '../card-bytes.ts'
import { cardContentsOf } from '../card-files.ts'
import type { CardOrder } from '../card-order.ts'
import type { PreparePorts } from './prepare-ports.ts'

/**
 * Writes prepared fonts as folders in the board's naming, where a request asks for it.
 * @returns the folder of each font, below the one asked for
 */
export async function writeInto(
  { into, dryRun }: Pick<RequestOf<'prepare'>, 'into' | 'dryRun'>,
  order: CardOrder,
  editions: readonly Edition[],
  ports: PreparePorts,
  control: RunControl,
): Promise<readonly string[]> {
  if (into === undefined || dryRun === true) return []
  const { fonts, files } = cardContentsOf({ ...order, editions, build: null }, ports.newHasher)
  await bringIn(files, ports, control)
  const found: PreparedFile[] = []
  for (const { path, sha256 } of files) {
    const sourcePath = await ports.store.pathOf(sha256)
    if (sourcePath !== undefined) found.push({ path, sourcePath, sha256 })
  }
  await ports.folders.write(into, found, control)
  return fonts.map(({ folder }) => folder)
}
