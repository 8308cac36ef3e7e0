import { AppError } from '../errors/app-error.ts'
import type { Edition } from '../model/library.ts'
import type { SingleSound, SoundOfEdition, SoundSource } from '../model/single-sound.ts'
import type { Sound } from '../model/sound.ts'

/**
 * A font as a build plays it: sounds left out, others in the place of its own, and added ones. A sound
 * of another font is called by that font and its path, so that findings and prepared copies of it are
 * no other build's.
 *
 * @param sources editions that sounds come from, by their id
 * @throws AppError `build/sound-gone` where the font has no longer what is to be replaced, or the other
 *   font no longer what is to take its place
 */
export function withSingleSounds(
  edition: Edition,
  singleSounds: readonly SingleSound[],
  sources: ReadonlyMap<string, Edition>,
): Edition {
  const own = singleSounds.filter(({ editionId }) => editionId === edition.id)
  if (own.length === 0) return edition
  const paths = new Set(edition.sounds.map(({ path }) => path))
  const away = new Set<string>()
  const brought: Sound[] = []
  for (const single of own) {
    if (single.kind !== 'added') away.add(single.path)
    if (single.kind === 'left-out') continue
    const { sound, source } = soundOf(single.sound, sources)
    const path = freePath(`${source.fontName.replaceAll('/', '-')}/${source.path}`, paths)
    paths.add(path)
    if (single.kind === 'added') {
      brought.push({ ...sound, path, source, ...placed(sound, single.place) })
      continue
    }
    const replaced = edition.sounds.find((each) => each.path === single.path)
    if (replaced === undefined) throw soundGone(single.path, edition.font.name)
    brought.push({ ...sound, path, source, place: replaced.place, roleSource: replaced.roleSource })
  }
  const sounds = [...edition.sounds.filter(({ path }) => !away.has(path)), ...brought]
  return {
    ...edition,
    sounds,
    soundCount: sounds.length,
    sizeBytes: edition.sizeBytes + bytesOf(sounds) - bytesOf(edition.sounds),
  }
}

/** Editions that single sounds come from, for those of these fonts. */
export function sourceIdsOf(
  singleSounds: readonly SingleSound[],
  editionIds: readonly string[],
): readonly string[] {
  const fonts = new Set(editionIds)
  return [
    ...new Set(
      singleSounds.flatMap((single) =>
        single.kind !== 'left-out' && fonts.has(single.editionId) ? [single.sound.editionId] : [],
      ),
    ),
  ]
}

function placed(sound: Sound, place: Sound['place']): Pick<Sound, 'place' | 'roleSource'> {
  return place === null ? { place: sound.place, roleSource: sound.roleSource } : { place, roleSource: 'user' }
}

function soundOf(
  { editionId, path }: SoundOfEdition,
  sources: ReadonlyMap<string, Edition>,
): { sound: Sound; source: SoundSource } {
  const edition = sources.get(editionId)
  const sound = edition?.sounds.find((each) => each.path === path)
  if (edition === undefined || sound === undefined) throw soundGone(path, edition?.font.name ?? editionId)
  const { id, name, creatorName } = edition.font
  return {
    sound,
    source: { editionId, path, fontId: id, fontName: name, version: edition.version, creatorName },
  }
}

function freePath(wanted: string, taken: ReadonlySet<string>): string {
  let path = wanted
  for (let again = 2; taken.has(path); again++) path = `${again} ${wanted}`
  return path
}

function bytesOf(sounds: readonly Sound[]): number {
  return sounds.reduce((sum, { inspection }) => sum + inspection.sizeBytes, 0)
}

function soundGone(path: string, fontName: string): AppError {
  return new AppError({
    code: 'build/sound-gone',
    what: `The build names a sound that "${fontName}" no longer has.`,
    where: path,
    mend: 'Take it back with `builds sounds take-back`, or scan the font as it was.',
  })
}
