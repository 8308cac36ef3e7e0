import type { ContentFile } from '../model/content.ts'
import type { RunControl } from '../ports/progress.ts'
import type { WantedOriginal } from '../ports/originals.ts'
import type { CardOrder } from './card-order.ts'
import type { CardPorts } from './card-ports.ts'
import { keepEditions, type KeptNow } from './keep-editions.ts'
import type { LaidOutCard } from './lay-out-card.ts'

type BytesPorts = Pick<CardPorts, 'database' | 'store' | 'originals'>

/**
 * Brings every byte of the card into the store, so that it can be made again when the download is gone:
 * the originals of its editions as a whole, and what Cardwright wrote itself.
 *
 * @throws AppError `originals/gone` and those of the store; Cancelled
 */
export async function keepCardBytes(
  order: CardOrder,
  laidOut: LaidOutCard,
  ports: BytesPorts,
  control: RunControl,
): Promise<KeptNow> {
  const kept = await keepEditions(editionsOf(order), ports, control)
  await bringIn(laidOut.plan.files, ports, control)
  for (const [sha256, bytes] of laidOut.ownBytes) await ports.store.keepBytes(bytes, sha256)
  return kept
}

/** Where the store has the bytes of files, by their hash; what it lacks is not among them. */
export async function sourcePathsOf(
  files: readonly ContentFile[],
  { store }: Pick<CardPorts, 'store'>,
): Promise<Readonly<Record<string, string>>> {
  const paths: Record<string, string> = {}
  for (const { sha256, sizeBytes } of files) {
    const path = sizeBytes === 0 ? undefined : await store.pathOf(sha256)
    if (path !== undefined) paths[sha256] = path
  }
  return paths
}

/**
 * Takes what the store lacks of files from the folders and archives of the editions that they come
 * from; an edition that the library does not know is passed over.
 *
 * @throws AppError `originals/gone` and those of the store; Cancelled
 */
export async function bringIn(
  files: readonly Pick<ContentFile, 'origin' | 'sizeBytes' | 'sha256'>[],
  { database, store, originals }: BytesPorts,
  control: RunControl,
): Promise<void> {
  const wanted = new Map<string, WantedOriginal[]>()
  for (const { origin, sizeBytes, sha256 } of files) {
    if (!('editionId' in origin) || sizeBytes === 0 || (await store.has(sha256))) continue
    const one = { path: origin.path, sizeBytes, sha256 }
    const ofEdition = wanted.get(origin.editionId)
    if (ofEdition === undefined) wanted.set(origin.editionId, [one])
    else ofEdition.push(one)
  }
  if (wanted.size === 0) return
  const known = new Map((await database.library.listEditions()).map((edition) => [edition.id, edition]))
  for (const [editionId, files] of wanted) {
    const edition = known.get(editionId)
    if (edition !== undefined) await originals.keep(edition.font.name, edition.places, files, control)
  }
}

/** Editions of the card, and those that lend single sounds. */
function editionsOf({ editions }: CardOrder): readonly string[] {
  return [
    ...new Set(
      editions.flatMap(({ id, sounds }) => [id, ...sounds.flatMap(({ source }) => source?.editionId ?? [])]),
    ),
  ]
}
