import { levelOf } from '../audio/level-of.ts'
import type { Edition } from '../model/library.ts'
import { isLoop } from '../model/role.ts'
import type { Sound, SoundInspection } from '../model/sound.ts'
import type { SpeakerLevel } from '../ports/library-records.ts'
import type { RunControl } from '../ports/progress.ts'
import type { SpeakerReadings } from '../ports/sound-inspector.ts'
import type { EditionToHear, SpeakerMeter } from '../ports/speaker-meter.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** Level of a sound through a speaker, in LUFS; null where it is no loop, or was not measured. */
export type SpeakerLevelOf = (sound: Sound) => number | null

/** Levels of loops as a speaker gives them: measured when first asked for, and kept. */
export interface SpeakerLevels {
  /**
   * Levels of all loops of these editions; those that nobody asked for before are measured now.
   * @param limitHz the speaker's low limit; null where nobody knows it, and then no sound has a level
   * @throws Cancelled
   */
  hear(editions: readonly Edition[], limitHz: number | null, control: RunControl): Promise<SpeakerLevelOf>
  /** As far as they are known: nothing is measured. */
  known(limitHz: number | null): Promise<SpeakerLevelOf>
}

export interface SpeakerLevelPorts {
  readonly database: Pick<WorkshopDatabase, 'library' | 'inTransaction'>
  readonly meter: SpeakerMeter
}

/** The samples are what is heard; where they identify nothing, as behind a lossy coding, the bytes are taken. */
export function soundKeyOf({ sampleHash, sha256 }: SoundInspection): string {
  return sampleHash ?? sha256
}

export function createSpeakerLevels({ database, meter }: SpeakerLevelPorts): SpeakerLevels {
  return {
    async hear(editions, limitHz, control) {
      if (limitHz === null) return NOBODY_KNOWS
      const loops = loopsByKey(editions)
      const kept = await database.library.findSpeakerLevels(limitHz, [...loops.keys()])
      const readings = new Map(kept.map(({ soundKey, readings: found }) => [soundKey, found]))
      const missing = [...loops].filter(([key]) => !readings.has(key)).map(([, sound]) => sound)
      if (missing.length === 0) return levelsFrom(readings)
      const heard = await meter.measure(await toHear(missing, editions, database), limitHz, control)
      const fresh = missing.flatMap(({ inspection }): SpeakerLevel[] => {
        const found = heard.get(inspection.sha256)
        return found === undefined ? [] : [{ soundKey: soundKeyOf(inspection), readings: found }]
      })
      if (fresh.length > 0) {
        await database.inTransaction(({ library }) => library.keepSpeakerLevels(limitHz, fresh))
      }
      for (const { soundKey, readings: found } of fresh) readings.set(soundKey, found)
      return levelsFrom(readings)
    },
    async known(limitHz) {
      if (limitHz === null) return NOBODY_KNOWS
      const kept = await database.library.listSpeakerLevels(limitHz)
      return levelsFrom(new Map(kept.map(({ soundKey, readings }) => [soundKey, readings])))
    },
  }
}

const NOBODY_KNOWS: SpeakerLevelOf = () => null

function levelsFrom(readings: ReadonlyMap<string, SpeakerReadings>): SpeakerLevelOf {
  return ({ place, inspection }) => {
    const found = place !== null && isLoop(place) ? readings.get(soundKeyOf(inspection)) : undefined
    return place === null || found === undefined ? null : levelOf(place, found)
  }
}

/** One sound for each key: the same sound is heard once. What has no level of its own has none here. */
function loopsByKey(editions: readonly Edition[]): ReadonlyMap<string, Sound> {
  const loops = new Map<string, Sound>()
  for (const sound of editions.flatMap(({ sounds }) => sounds)) {
    const { place, inspection } = sound
    if (place === null || !isLoop(place) || inspection.measures === null) continue
    if (levelOf(place, inspection.measures.levels) !== null) loops.set(soundKeyOf(inspection), sound)
  }
  return loops
}

/** Sounds by the edition that they are of: a build may play some in fonts of others. */
async function toHear(
  sounds: readonly Sound[],
  editions: readonly Edition[],
  { library }: Pick<WorkshopDatabase, 'library'>,
): Promise<readonly EditionToHear[]> {
  const byEdition = new Map<string, Sound[]>()
  for (const sound of sounds) {
    const editionId = sound.source?.editionId ?? sound.editionId
    const own = byEdition.get(editionId)
    if (own === undefined) byEdition.set(editionId, [sound])
    else own.push(sound)
  }
  const at = new Map(editions.map((edition) => [edition.id, edition]))
  const lenders = [...byEdition.keys()].filter((id) => !at.has(id))
  for (const edition of await library.getEditions(lenders)) at.set(edition.id, edition)
  return [...byEdition].flatMap(([editionId, own]) => {
    const edition = at.get(editionId)
    if (edition === undefined) return []
    const wanted = own.map(({ path, source, inspection: { sha256, sizeBytes } }) => ({
      path: source?.path ?? path,
      sizeBytes,
      sha256,
    }))
    return [{ fontName: edition.font.name, places: edition.places, sounds: wanted }]
  })
}
