import { compareCard, plannedTables, type CardDifferences } from '../cards/compare-card.ts'
import { entryOrderFault } from '../cards/folder/entry-order.ts'
import { imageExtents } from '../cards/image-extents.ts'
import { imageStampOf } from '../cards/image-stamp.ts'
import { planAgain } from '../cards/plan-card.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { Content } from '../model/content.ts'
import type { RunControl } from '../ports/progress.ts'
import type { CardPorts } from './card-ports.ts'

/** What reading a card back and holding it against its record came to. */
export interface Verified extends CardDifferences {
  readonly isVerified: boolean
  readonly filesChecked: number
  readonly bytesChecked: number
  /** What is to be known and is no fault, each in one sentence. */
  readonly notes: readonly string[]
}

/**
 * Reads an image or folder through the independent reader and compares every file's hash with the
 * record; of an image also the partition table, boot sectors, FATs and directories, of a folder on a
 * FAT the order of its entries.
 *
 * @param countsByEntry whether the board plays in the order of the entries, so that another is a fault
 * @throws AppError `verify/not-found`, `verify/unreadable`; Cancelled
 */
export async function verifyAgainst(
  content: Content,
  target: string,
  kind: 'image' | 'folder',
  ports: Pick<CardPorts, 'reader' | 'newHasher'>,
  control: RunControl,
  countsByEntry = true,
): Promise<Verified> {
  const tables = kind === 'image' ? tablesOf(content, ports) : []
  const stretches = tables.map(({ offset, sizeBytes }) => ({ offset, sizeBytes }))
  const totalBytes = content.files.reduce((sum, file) => sum + file.sizeBytes, 0)
  const reading = await ports.reader.read(target, stretches, {
    cancel: control.cancel,
    // The reader does not know how much there will be; the record does.
    onProgress: (progress) => control.onProgress({ ...progress, total: Math.max(totalBytes, progress.done) }),
  })
  const { missing, changed, added, ...differences } = compareCard(content, reading, tables)
  const orderFault = entryOrderFault(content, reading)
  const faults = [...differences.faults, ...(orderFault !== null && countsByEntry ? [orderFault] : [])]
  return {
    missing,
    changed,
    added,
    faults,
    isVerified: missing.length + changed.length + added.length + faults.length === 0,
    filesChecked: reading.files.length,
    bytesChecked: reading.files.reduce((sum, file) => sum + file.sizeBytes, 0),
    notes: [
      ...(orderFault === null || countsByEntry
        ? []
        : [`${orderFault} The board counts by name and plays it all the same.`]),
      ...litterNotes(reading.litter ?? []),
    ],
  }
}

/** The outcome of reading back as the doors get it. */
export function verifyReportOf(
  target: string,
  fingerprint: string,
  verified: Verified,
): ResponseOf<'verify'> {
  const { isVerified, ...found } = verified
  return { target, fingerprint, verified: isVerified, ...found }
}

function tablesOf(content: Content, ports: Pick<CardPorts, 'newHasher'>) {
  const plan = planAgain(content.files, content.geometry)
  const stamp = imageStampOf(content.fingerprint, content.createdAt, ports.newHasher)
  return plannedTables(imageExtents(plan, stamp), ports.newHasher)
}

/** Most that one sentence names. */
const NAMED_LITTER = 5

function litterNotes(litter: readonly string[]): readonly string[] {
  if (litter.length === 0) return []
  const more = litter.length - NAMED_LITTER
  const named = `${litter.slice(0, NAMED_LITTER).join(', ')}${more > 0 ? ` and ${more} more` : ''}`
  return [`An operating system left ${named} there; a board that counts folders may stumble over it.`]
}
