import { AppError } from '../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { Edition } from '../model/library.ts'
import type { Build } from '../model/records.ts'
import type { SingleSound } from '../model/single-sound.ts'
import type { RunControl } from '../ports/progress.ts'
import type { RecordsReader } from '../ports/bench-records.ts'
import { buildIdsOf } from './builds-of-content.ts'
import { keepEditions, type KeepPorts } from './keep-editions.ts'

type Change = RequestOf<'builds:sounds'>['change']

/**
 * Changes one sound of a build: adds one to a font, puts one in another's place, leaves one out, or
 * takes such a word back. Originals of a font that lends a sound enter the store now.
 *
 * @throws AppError `build/unknown`, `font/unknown`, `build/font-not-in`, `build/unknown-sound`,
 *   `build/sound-without-role`, `build/nothing-to-take-back`; those of `keepEditions`; Cancelled
 */
export async function changeBuildSounds(
  { id, change }: RequestOf<'builds:sounds'>,
  ports: KeepPorts,
  control: RunControl,
): Promise<ResponseOf<'builds:sounds'>> {
  const build = await ports.database.inTransaction(async ({ library, records }) => {
    const before = await getBuild(id, records)
    requireFont(before, change)
    const wanted = change.act === 'add' || change.act === 'replace' ? [change.sound.editionId] : []
    const [edition, lender] = await library.getEditions([change.editionId, ...wanted])
    if (edition === undefined) throw new RangeError('an edition that was asked for is told')
    const sounds = changed(before.singleSounds, change, edition, lender)
    return records.setSingleSounds(id, sounds)
  })
  const lenders = change.act === 'add' || change.act === 'replace' ? [change.sound.editionId] : []
  return { build, kept: await keepEditions(lenders, ports, control) }
}

/** Configs that a build had, with the contents that carry each. @throws AppError `build/unknown` */
export async function listConfigs(id: string, records: RecordsReader): Promise<ResponseOf<'builds:configs'>> {
  const build = await getBuild(id, records)
  const [versions, contents] = await Promise.all([records.listConfigVersions(id), records.listContents()])
  const own = contents.filter((content) => buildIdsOf(content).includes(id))
  return {
    build: build.code,
    versions: versions.map((version, index) => ({
      ...version,
      isCurrent:
        index === 0 && build.config?.text === version.text && build.config.fileName === version.fileName,
      contents: own
        .filter(({ config }) => config?.text === version.text)
        .map(({ fingerprint }) => fingerprint),
    })),
  }
}

async function getBuild(id: string, records: RecordsReader): Promise<Build> {
  const build = (await records.listBuilds()).find((each) => each.id === id)
  if (build !== undefined) return build
  throw new AppError({
    code: 'build/unknown',
    what: 'No build of this id is recorded.',
    where: id,
    mend: '`builds list` shows all.',
  })
}

function changed(
  before: readonly SingleSound[],
  change: Change,
  edition: Edition,
  lender: Edition | undefined,
): readonly SingleSound[] {
  const { editionId } = change
  if (change.act === 'take-back') return takenBack(before, change, edition)
  if (change.act === 'add') {
    const { sound, place = null } = change
    if (place === null && requireSound(lender, sound.path).place === null) throw withoutRole(sound.path)
    requireSound(lender, sound.path)
    return [...before, { kind: 'added', editionId, sound, place }]
  }
  const { path } = change
  requireSound(edition, path)
  const others = before.filter((single) => !concerns(single, editionId, path))
  if (change.act === 'leave-out') return [...others, { kind: 'left-out', editionId, path }]
  requireSound(lender, change.sound.path)
  return [...others, { kind: 'replaced', editionId, path, sound: change.sound }]
}

/** By the path in the font, by the path where it comes from, or by what it is called in the build. */
function takenBack(
  before: readonly SingleSound[],
  { editionId, path }: Change & { act: 'take-back' },
  edition: Edition,
): readonly SingleSound[] {
  const index = before.findLastIndex((single) => {
    if (concerns(single, editionId, path)) return true
    if (single.editionId !== editionId || single.kind === 'left-out') return false
    return single.sound.path === path || path.endsWith(`/${single.sound.path}`)
  })
  if (index >= 0) return before.toSpliced(index, 1)
  throw new AppError({
    code: 'build/nothing-to-take-back',
    what: `The build says nothing of this sound of "${edition.font.name}".`,
    where: path,
    mend: '`builds sounds list CODE` shows what it says.',
  })
}

function concerns(single: SingleSound, editionId: string, path: string): boolean {
  return single.kind !== 'added' && single.editionId === editionId && single.path === path
}

function requireFont({ code, fontEditionIds }: Build, { act, editionId }: Change): void {
  if (act === 'take-back' || fontEditionIds.includes(editionId)) return
  throw new AppError({
    code: 'build/font-not-in',
    what: `This font is not in the build ${code}.`,
    where: editionId,
    mend: 'Give the build the font first, then change its sounds.',
  })
}

function requireSound(edition: Edition | undefined, path: string): Edition['sounds'][number] {
  const sound = edition?.sounds.find((each) => each.path === path)
  if (sound !== undefined) return sound
  throw new AppError({
    code: 'build/unknown-sound',
    what: `The font "${edition?.font.name ?? ''}" has no sound of this path.`,
    where: path,
    mend: '`sounds FONT` lists its sounds.',
  })
}

function withoutRole(path: string): AppError {
  return new AppError({
    code: 'build/sound-without-role',
    what: 'Nothing tells what this sound is for.',
    where: path,
    mend: 'Say it with --role.',
  })
}
