import type { ResponseOf } from '../../contract/calls.ts'
import type { Core } from '../../contract/core.ts'
import { AppError, Cancelled } from '../../errors/app-error.ts'
import type { DemoFolder } from '../../ports/demo-folder.ts'
import type { RunControl } from '../../ports/progress.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'
import { demoFilesOf } from './demo-files.ts'
import type { DemoScenario } from './scenario.ts'

/** The calls of the core that the demo's run in view is made of. */
export type DemoCore = Pick<
  Core,
  | 'scan'
  | 'fonts:list'
  | 'fonts:set'
  | 'creators:list'
  | 'creators:add'
  | 'licences:list'
  | 'licences:add'
  | 'builds:list'
  | 'builds:add'
  | 'check'
  | 'make'
>

export interface DemoPorts {
  readonly core: DemoCore
  readonly database: WorkshopDatabase
  readonly folder: DemoFolder
}

/** Setting that tells a demo workshop from a user's own. */
export const DEMO_SETTING = 'workshop.isDemo'

type Fonts = ReadonlyMap<string, ResponseOf<'fonts:list'>['fonts'][number]>

/**
 * Makes the demo workshop and does the main job on it: writes its fonts, scans them, records who
 * made them, under which licence, for which builds, checks all against the board and makes the
 * first card. Run again, it adds only what is missing and makes the card anew.
 *
 * @throws AppError `demo/own-library` where the workshop holds fonts of the user's own; whatever
 *   scan, check and make throw.
 */
export async function prepareDemo(
  scenario: DemoScenario,
  ports: DemoPorts,
  control: RunControl,
): Promise<ResponseOf<'demo:prepare'>> {
  await refuseOwnLibrary(ports.database, ports.folder.path)
  await writeFonts(scenario, ports.folder, control)
  await ports.core.scan({ paths: [ports.folder.path] }, control)
  const fonts = await fontsByName(ports.core, control)
  await recordCreators(scenario, ports.core, fonts, control)
  await recordLicences(scenario, ports.core, fonts, control)
  await recordBuilds(scenario, ports.core, fonts, control)
  const checked = await ports.core.check(
    { boardId: scenario.boardId, editionIds: [...fonts.values()].map((font) => font.id) },
    control,
  )
  const make = await ports.core.make(
    {
      buildCode: scenario.firstCard.build,
      cardBytes: scenario.firstCard.cardBytes,
      imagePath: scenario.firstCard.image,
      replace: true,
    },
    control,
  )
  const onCard = new Set(scenario.builds.find((build) => build.code === scenario.firstCard.build)?.fonts)
  const waiting = checked.fonts
    .filter((font) => !onCard.has(font.font))
    .map((font) => ({
      font: font.font,
      verdict: font.verdict.word,
      reasons: font.findings
        .filter((finding) => finding.severity !== 'note')
        .map((finding) => (finding.path === null ? finding.message : `${finding.path}: ${finding.message}`)),
    }))
  return { fonts: checked.fonts, make, waiting }
}

/** The demo's records among a user's own would be lies in their books. */
async function refuseOwnLibrary(database: WorkshopDatabase, path: string): Promise<void> {
  if ((await database.records.findSetting(DEMO_SETTING)) === 'yes') return
  if ((await database.library.listEditions()).length > 0) {
    throw new AppError({
      code: 'demo/own-library',
      what: 'This workshop holds fonts of your own, and the demo would mix invented ones with them.',
      where: path,
      mend: 'Name an empty folder with --workshop for the demo.',
    })
  }
  await database.inTransaction((transaction) => transaction.records.setSetting(DEMO_SETTING, 'yes'))
}

async function writeFonts(scenario: DemoScenario, folder: DemoFolder, control: RunControl): Promise<void> {
  for (const [index, font] of scenario.fonts.entries()) {
    if (control.cancel.aborted) throw new Cancelled()
    control.onProgress({
      phase: 'making the demo fonts',
      done: index,
      total: scenario.fonts.length,
      unit: 'fonts',
      current: font.name,
    })
    await folder.writeFont(font.place, demoFilesOf(scenario, font))
  }
}

async function fontsByName(core: DemoCore, control: RunControl): Promise<Fonts> {
  const { fonts } = await core['fonts:list']({}, control)
  return new Map(fonts.filter((font) => font.state === 'present').map((font) => [font.font.name, font]))
}

function fontOf(fonts: Fonts, name: string) {
  const font = fonts.get(name)
  if (font === undefined) throw new TypeError(`The demo's font "${name}" was not found by its scan.`)
  return font
}

async function recordCreators(
  scenario: DemoScenario,
  core: DemoCore,
  fonts: Fonts,
  control: RunControl,
): Promise<void> {
  const ids = new Map((await core['creators:list']({}, control)).creators.map(({ name, id }) => [name, id]))
  for (const creator of scenario.creators) {
    if (!ids.has(creator.name)) {
      ids.set(creator.name, (await core['creators:add'](creator, control)).creator.id)
    }
  }
  for (const { name, version, creator } of scenario.fonts) {
    const creatorId = ids.get(creator)
    if (creatorId === undefined) throw new TypeError(`The demo names no creator "${creator}".`)
    const found = fontOf(fonts, name)
    if (found.font.creatorId !== creatorId || found.version !== version) {
      await core['fonts:set']({ editionId: found.id, version, creatorId }, control)
    }
  }
}

async function recordLicences(
  scenario: DemoScenario,
  core: DemoCore,
  fonts: Fonts,
  control: RunControl,
): Promise<void> {
  const unlicensed = new Set(
    scenario.faults.filter((fault) => fault.plant.noLicence === true).map((fault) => fault.font),
  )
  const { licences } = await core['licences:list']({}, control)
  const recorded = new Set(licences.map((licence) => licence.fontId))
  for (const { font, ...licence } of scenario.licences) {
    const fontId = fontOf(fonts, font).font.id
    if (!unlicensed.has(font) && !recorded.has(fontId)) {
      await core['licences:add']({ fontId, ...licence }, control)
    }
  }
}

async function recordBuilds(
  scenario: DemoScenario,
  core: DemoCore,
  fonts: Fonts,
  control: RunControl,
): Promise<void> {
  const { builds } = await core['builds:list']({}, control)
  const recorded = new Set(builds.map((build) => build.code))
  for (const { fonts: names, ...build } of scenario.builds) {
    if (recorded.has(build.code)) continue
    await core['builds:add'](
      {
        ...build,
        boardId: scenario.boardId,
        fontEditionIds: names.map((name) => fontOf(fonts, name).id),
        config: null,
        ruleChanges: [],
      },
      control,
    )
  }
}
