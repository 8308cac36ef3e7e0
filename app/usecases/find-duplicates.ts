import { duplicateSounds } from '../audio/duplicates.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { LibraryReader } from '../ports/library-records.ts'

/** So many editions are in memory at a time. */
const BATCH = 100

/** Groups of sounds with equal samples in all present editions, in the order of their fonts. */
export async function findDuplicates(
  library: LibraryReader,
): Promise<ResponseOf<'fonts:duplicates'>['groups']> {
  const summaries = (await library.listEditions()).filter((edition) => edition.state === 'present')
  const sounds = []
  for (let at = 0; at < summaries.length; at += BATCH) {
    const ids = summaries.slice(at, at + BATCH).map((summary) => summary.id)
    for (const edition of await library.getEditions(ids)) {
      for (const { id, path, inspection } of edition.sounds) {
        sounds.push({
          sampleHash: inspection.sampleHash,
          seconds: inspection.facts?.seconds ?? null,
          soundId: id,
          editionId: edition.id,
          font: edition.font.name,
          version: edition.version,
          path,
          sizeBytes: inspection.sizeBytes,
        })
      }
    }
  }
  return duplicateSounds(sounds).map((group) => ({
    sampleHash: group[0]?.sampleHash ?? '',
    seconds: group[0]?.seconds ?? null,
    sounds: group.map(({ sampleHash: _hash, seconds: _seconds, ...sound }) => sound),
  }))
}
