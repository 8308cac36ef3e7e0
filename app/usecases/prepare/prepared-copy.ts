import type { Edition } from '../../model/library.ts'
import type { SoundInspection } from '../../model/sound.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'

/** An edition with the bytes that were made for a board in the place of its originals. */
export function preparedCopy(edition: Edition, inspections: ReadonlyMap<string, SoundInspection>): Edition {
  if (inspections.size === 0) return edition
  const sounds = edition.sounds.map((sound) => {
    const inspection = inspections.get(sound.path)
    return inspection === undefined ? sound : { ...sound, inspection }
  })
  const grown = sounds.reduce(
    (sum, sound, index) =>
      sum + sound.inspection.sizeBytes - (edition.sounds[index]?.inspection.sizeBytes ?? 0),
    0,
  )
  return { ...edition, sounds, sizeBytes: edition.sizeBytes + grown }
}

/**
 * Editions as a board is to get them: prepared sounds where there are some, made of the very
 * originals that the library has now; everything else as it came.
 */
export async function preparedCopies(
  editions: readonly Edition[],
  boardHash: string,
  { preparation }: Pick<WorkshopDatabase, 'preparation'>,
): Promise<readonly Edition[]> {
  const rows = await preparation.listPreparedSounds(
    editions.map(({ id }) => id),
    boardHash,
  )
  const changed = rows.filter(({ originalSha256, preparedSha256 }) => originalSha256 !== preparedSha256)
  const inspections = await preparation.findInspections(changed.map(({ preparedSha256 }) => preparedSha256))
  return editions.map((edition) => {
    const originals = new Map(edition.sounds.map(({ path, inspection }) => [path, inspection.sha256]))
    const found = new Map<string, SoundInspection>()
    changed.forEach(({ editionId, path, originalSha256 }, index) => {
      const inspection = inspections[index]
      const isCurrent = editionId === edition.id && originals.get(path) === originalSha256
      if (isCurrent && inspection != null) found.set(path, inspection)
    })
    return preparedCopy(edition, found)
  })
}
