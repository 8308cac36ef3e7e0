import type { Core } from '../app/contract/core.ts'
import type { Edition } from '../app/model/library.ts'
import type { CardTargets } from '../app/ports/card-targets.ts'
import type { DemoFolder } from '../app/ports/demo-folder.ts'
import type { RunControl } from '../app/ports/progress.ts'
import { changeFont } from '../app/usecases/change-font.ts'
import { changeWorkshop } from '../app/usecases/change-workshop.ts'
import type { CardSelection } from '../app/usecases/card-order.ts'
import type { CardPorts } from '../app/usecases/card-ports.ts'
import { changeBuildSounds, listConfigs } from '../app/usecases/change-build-sounds.ts'
import { checkFonts } from '../app/usecases/check-edition.ts'
import { DEMO_SETTING, prepareDemo } from '../app/usecases/demo/prepare-demo.ts'
import { readScenario } from '../app/usecases/demo/scenario.ts'
import { keepFont, releaseFont, showOriginals } from '../app/usecases/font-originals.ts'
import type { Judging } from '../app/usecases/judging.ts'
import { keepEditions, keepEditionsOfFont } from '../app/usecases/keep-editions.ts'
import { findDuplicates } from '../app/usecases/find-duplicates.ts'
import { listContents } from '../app/usecases/list-contents.ts'
import { listFonts } from '../app/usecases/list-fonts.ts'
import { makeContent } from '../app/usecases/make-content.ts'
import { addBuild, changeBuild } from '../app/usecases/record-builds.ts'
import { addCreator, changeCreator } from '../app/usecases/record-creators.ts'
import { addLicence, changeLicence, removeLicence } from '../app/usecases/record-licences.ts'
import { remakeContent } from '../app/usecases/remake-content.ts'
import { prepareEditions } from '../app/usecases/prepare/prepare-edition.ts'
import type { PreparePorts } from '../app/usecases/prepare/prepare-ports.ts'
import { waryStore } from '../app/usecases/prepare/wary-store.ts'
import { requirePrepared } from '../app/usecases/prepare/require-prepared.ts'
import { changeChoices, listChoices } from '../app/usecases/prepare/recipe-choices.ts'
import { showPreparedSound } from '../app/usecases/prepare/show-prepared-sound.ts'
import { removeRoot } from '../app/usecases/remove-root.ts'
import type { ScanPorts } from '../app/usecases/scan/scan-ports.ts'
import { compareContents, showContent } from '../app/usecases/show-content.ts'
import { showWaveform } from '../app/usecases/show-waveform.ts'
import { showFont } from '../app/usecases/show-font.ts'
import { sizeCard } from '../app/usecases/size-card.ts'
import { judgeTarget } from '../app/usecases/target/judge-target.ts'
import { listDrives } from '../app/usecases/target/list-drives.ts'
import { makeInto } from '../app/usecases/target/make-into.ts'
import { remakeInto } from '../app/usecases/target/remake-into.ts'
import type { TargetPorts } from '../app/usecases/target/target-ports.ts'
import { usualSpeakerLimit } from '../app/usecases/speaker-limit.ts'
import { toldChanges } from '../app/usecases/told-changes.ts'
import { verifyCard } from '../app/usecases/verify-card.ts'
import { whileOriginalsStay } from '../app/usecases/while-originals-stay.ts'
import { boardCoreOf, type BoardCoreParts } from './board-core.ts'
import type { WorkshopBoards } from './workshop-boards.ts'
import { accountName } from './workshop-folder.ts'
import type { WorkshopPaths } from './workshop-paths.ts'

/** The board that is judged for where none is named. */
const DEFAULT_BOARD_ID = 'bench-44'

/** What the core is made of; opened and closed by the workshop. */
export interface CoreParts {
  readonly paths: WorkshopPaths
  readonly who: string
  readonly boards: WorkshopBoards
  readonly judging: Judging
  readonly texts: BoardCoreParts['texts']
  readonly observer: BoardCoreParts['observer']
  readonly scan: Pick<ScanPorts, 'peaks'>
  readonly scanCall: Core['scan']
  readonly cards: CardPorts
  readonly targets: CardTargets
  readonly preparing: Omit<PreparePorts, keyof CardPorts>
  readonly demo: { readonly scenarioText: () => Promise<string>; folder(name: string): DemoFolder }
}

/** Every call of the contract, as a use case with its ports. */
export function coreOf(parts: CoreParts): Core {
  const { paths, who, boards, judging, texts, observer, scan, scanCall, cards, targets, preparing, demo } =
    parts
  const { database, toolVersion } = cards
  const targetPorts: TargetPorts = {
    ...cards,
    targets,
    workshopFolder: paths.folder,
    imagesFolder: paths.images,
  }
  const preparePorts: PreparePorts = { ...cards, ...preparing }
  /** Prepared bytes are recorded with the originals they are of: none of these goes meanwhile. */
  const prepareFonts: Core['prepare'] = (request, control) => {
    if (request.dryRun === true) return prepareEditions(request, preparePorts, control)
    return whileOriginalsStay('preparing sounds', cards.locks, control, async () => {
      const wary = waryStore(cards.store)
      const report = await prepareEditions(request, { ...preparePorts, store: wary.store }, control)
      return { ...report, cautions: [...wary.cautions(), ...report.cautions] }
    })
  }
  /** What is recorded brings originals in: none of these goes between the two. */
  const keeping = <T>(control: RunControl, act: () => Promise<T>): Promise<T> =>
    whileOriginalsStay('keeping originals', cards.locks, control, act)
  const knownBoards = {
    refuseUnknownBoard: async (boardId: string) => void (await boards.get(boardId)),
  }
  /** What is to be made, prepared on the way where that is asked for. @returns what is to be known of it */
  const preparedFirst = async (
    isAsked: boolean | undefined,
    { boardId, editionIds, buildCode }: CardSelection,
    control: RunControl,
  ): Promise<readonly string[]> => {
    if (isAsked !== true) return []
    const selection = toldChanges({ boardId, editionIds, buildCode })
    const report = await prepareFonts(selection, control)
    requirePrepared(report)
    return report.cautions
  }
  const core: Core = {
    'workshop:status': async () => {
      const [editions, isDemo, speakerLowLimitHz] = await Promise.all([
        database.library.listEditions(),
        database.records.findSetting(DEMO_SETTING),
        usualSpeakerLimit(database.records),
      ])
      const present = editions.filter((edition) => edition.state === 'present')
      return {
        path: paths.folder,
        version: toolVersion,
        who,
        isDemo: isDemo === 'yes',
        fontCount: present.length,
        soundCount: present.reduce((sum, edition) => sum + edition.soundCount, 0),
        defaultBoardId: DEFAULT_BOARD_ID,
        imagesFolder: paths.images,
        speakerLowLimitHz,
      }
    },
    'workshop:change': (change) => changeWorkshop(change, database, accountName()),
    'demo:prepare': async (_request, control) => {
      const scenario = readScenario(await demo.scenarioText())
      return prepareDemo(scenario, { core, database, folder: demo.folder(scenario.scanFolder) }, control)
    },
    'roots:list': async () => {
      const [roots, problems] = await Promise.all([
        database.library.listRoots(),
        database.library.listScanProblems(),
      ])
      return { roots, problems }
    },
    'roots:remove': async ({ rootId }) => ({ removed: await removeRoot(database, rootId) }),
    scan: scanCall,
    'fonts:list': async ({ boardId }) => {
      if (boardId === undefined) return listFonts(database, null)
      const { board } = await boards.get(boardId)
      return listFonts(database, { ...(await judging.verdictGiver(board)), boardHash: board.hash })
    },
    'fonts:show': async ({ editionId, boardId }) => {
      if (boardId === undefined) return showFont(database, editionId, null)
      const { board } = await boards.get(boardId)
      const judge = (edition: Edition) => judging.judge(edition, board)
      return showFont(database, editionId, { boardId, boardHash: board.hash, judge })
    },
    'sounds:waveform': (request) =>
      showWaveform(request, { database, getBoard: (id) => cards.getBoard(id), peaks: scan.peaks }),
    'fonts:duplicates': async () => ({ groups: await findDuplicates(database.library) }),
    'fonts:set': async ({ editionId, ...change }) => ({
      edition: await changeFont(database, editionId, toldChanges(change)),
    }),
    'boards:list': () => boards.list(),
    ...boardCoreOf({ boards, judging, cards, texts, observer, paths, pages: preparing.folders }),
    check: (request, control) =>
      checkFonts(request, { database, getBoard: (id) => cards.getBoard(id), judging }, control),
    prepare: async ({ into, reportPath, ...request }, control) => {
      const page = reportPath === undefined ? undefined : paths.imageAt(reportPath)
      // Told before all sounds were prepared for it.
      if (page !== undefined) await preparing.folders.requirePlaceOfPage(page)
      return prepareFonts(
        {
          ...request,
          ...(into === undefined ? {} : { into: paths.imageAt(into) }),
          ...(page === undefined ? {} : { reportPath: page }),
        },
        control,
      )
    },
    'prepare:choices': (request) => listChoices(request, cards),
    'prepare:choose': (request) => changeChoices(request, cards),
    'sounds:prepared': (request) => showPreparedSound(request, preparePorts),
    size: (request) => sizeCard(request, cards),
    make: async ({ prepare, ...request }, control) => {
      const cautions = await preparedFirst(prepare, request, control)
      const imagePath = paths.imageAt(request.imagePath)
      return { ...(await makeContent({ ...request, imagePath }, cards, control)), cautions }
    },
    verify: (request, control) =>
      verifyCard({ ...request, target: paths.imageAt(request.target) }, cards, control),
    'drives:list': () => listDrives(targetPorts),
    'targets:judge': (request, control) =>
      judgeTarget({ ...request, into: paths.imageAt(request.into) }, targetPorts, control),
    'make:into': async ({ prepare, ...request }, control) => {
      const cautions = await preparedFirst(prepare, request, control)
      const into = paths.imageAt(request.into)
      return { ...(await makeInto({ ...request, into }, targetPorts, control)), cautions }
    },
    'contents:remake-into': (request, control) =>
      remakeInto({ ...request, into: paths.imageAt(request.into) }, targetPorts, control),
    'contents:list': () => listContents(cards),
    'contents:show': ({ content }) => showContent(content, database.records),
    'contents:diff': (request) => compareContents(request, database.records),
    'contents:remake': (request, control) =>
      remakeContent({ ...request, imagePath: paths.imageAt(request.imagePath) }, cards, control),
    'creators:list': async () => ({ creators: await database.records.listCreators() }),
    'creators:add': async (creator) => ({ creator: await addCreator(database, creator) }),
    'creators:change': async ({ id, change }) => ({
      creator: await changeCreator(database, id, toldChanges(change)),
    }),
    'licences:list': async ({ fontId }) => ({
      licences:
        fontId === undefined
          ? await database.records.listLicences()
          : await database.records.listLicencesOfFonts([fontId]),
    }),
    'licences:add': (wanted, control) =>
      keeping(control, async () => {
        const licence = await addLicence(database, wanted)
        return { licence, kept: await keepEditionsOfFont(licence.fontId, cards, control) }
      }),
    'licences:change': ({ id, change }, control) =>
      keeping(control, async () => {
        const licence = await changeLicence(database, id, toldChanges(change))
        return { licence, kept: await keepEditionsOfFont(licence.fontId, cards, control) }
      }),
    'licences:remove': async ({ id }) => {
      await removeLicence(database, id)
      return { removedId: id }
    },
    'builds:list': async () => ({ builds: await database.records.listBuilds() }),
    'builds:add': (wanted, control) =>
      keeping(control, async () => {
        const build = await addBuild(database, knownBoards, wanted)
        return { build, kept: await keepEditions(build.fontEditionIds, cards, control) }
      }),
    'builds:change': ({ id, change }, control) =>
      keeping(control, async () => {
        const build = await changeBuild(database, knownBoards, id, toldChanges(change))
        return { build, kept: await keepEditions(build.fontEditionIds, cards, control) }
      }),
    'builds:sounds': (request, control) => keeping(control, () => changeBuildSounds(request, cards, control)),
    'builds:configs': ({ id }) => listConfigs(id, database.records),
    'originals:show': ({ editionId }) => showOriginals(editionId, cards),
    'originals:keep': ({ editionId }, control) => keeping(control, () => keepFont(editionId, cards, control)),
    'originals:release': (request) => releaseFont(request, cards),
  }
  return core
}
