import { compareCard, plannedTables, type CardDifferences } from '../cards/compare-card.ts'
import { imageExtents } from '../cards/image-extents.ts'
import { imageStampOf } from '../cards/image-stamp.ts'
import { planAgain } from '../cards/plan-card.ts'
import type { Content } from '../model/content.ts'
import type { RunControl } from '../ports/progress.ts'
import type { CardPorts } from './card-ports.ts'

/** What reading a card back and holding it against its record came to. */
export interface Verified extends CardDifferences {
  readonly isVerified: boolean
  readonly filesChecked: number
  readonly bytesChecked: number
}

/**
 * Reads an image or folder through the independent reader and compares every file's hash with the
 * record; of an image also the partition table, boot sectors, FATs and directories.
 *
 * @throws AppError `verify/not-found`, `verify/unreadable`; Cancelled
 */
export async function verifyAgainst(
  content: Content,
  target: string,
  kind: 'image' | 'folder',
  ports: Pick<CardPorts, 'reader' | 'newHasher'>,
  control: RunControl,
): Promise<Verified> {
  const tables = kind === 'image' ? tablesOf(content, ports) : []
  const stretches = tables.map(({ offset, sizeBytes }) => ({ offset, sizeBytes }))
  const totalBytes = content.files.reduce((sum, file) => sum + file.sizeBytes, 0)
  const reading = await ports.reader.read(target, stretches, {
    cancel: control.cancel,
    // The reader does not know how much there will be; the record does.
    onProgress: (progress) => control.onProgress({ ...progress, total: Math.max(totalBytes, progress.done) }),
  })
  const differences = compareCard(content, reading, tables)
  const { missing, changed, added, faults } = differences
  return {
    ...differences,
    isVerified: missing.length + changed.length + added.length + faults.length === 0,
    filesChecked: reading.files.length,
    bytesChecked: reading.files.reduce((sum, file) => sum + file.sizeBytes, 0),
  }
}

function tablesOf(content: Content, ports: Pick<CardPorts, 'newHasher'>) {
  const plan = planAgain(content.files, content.geometry)
  const stamp = imageStampOf(content.fingerprint, content.createdAt, ports.newHasher)
  return plannedTables(imageExtents(plan, stamp), ports.newHasher)
}
