import type { Migration } from 'kysely/migration'
import { firstWorkshop } from './001-first-workshop.ts'
import { preparing } from './002-preparing.ts'
import { speakerLevels } from './003-speaker-levels.ts'
import { rulesOfABuild } from './004-rules-of-a-build.ts'
import { singleSoundsAndKeptOriginals } from './005-single-sounds-and-kept-originals.ts'
import { conversionAllowed } from './006-conversion-allowed.ts'

/** Every migration by its name, in order. One that was released is never changed; a new one is added. */
export const ALL_MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001-first-workshop': firstWorkshop,
  '002-preparing': preparing,
  '003-speaker-levels': speakerLevels,
  '004-rules-of-a-build': rulesOfABuild,
  '005-single-sounds-and-kept-originals': singleSoundsAndKeptOriginals,
  '006-conversion-allowed': conversionAllowed,
}
