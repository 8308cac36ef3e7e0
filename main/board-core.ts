import { createHash } from 'node:crypto'
import type { boardCalls } from '../app/contract/board-calls.ts'
import type { Core } from '../app/contract/core.ts'
import type { CardObserver } from '../app/ports/card-observer.ts'
import type { PreparedFolders } from '../app/ports/prepared-folders.ts'
import type { WorkshopTexts } from '../app/ports/workshop-texts.ts'
import {
  boardByWord,
  listBoardVersions,
  listRules,
  showBoard,
  type BoardVersionPorts,
} from '../app/usecases/board-versions.ts'
import type { CardPorts } from '../app/usecases/card-ports.ts'
import { checkCard } from '../app/usecases/check-card.ts'
import { checkReport } from '../app/usecases/check-report.ts'
import { forgetRoles, keepScheme, setRoles, showRoles, type RolePorts } from '../app/usecases/font-roles.ts'
import type { Judging } from '../app/usecases/judging.ts'
import {
  compareBoards,
  draftBoardFrom,
  learnFromSounds,
  newBoard,
  saveBoard,
  testBoard,
  type BoardPorts,
} from '../app/usecases/keep-boards.ts'
import { schemeSummaryOf } from '../app/usecases/scheme-summary.ts'
import { translateNames } from '../app/usecases/translate-names.ts'
import { roleReadingOf } from './role-reading.ts'
import type { WorkshopBoards } from './workshop-boards.ts'
import type { WorkshopPaths } from './workshop-paths.ts'

/** The part of the core about boards, schemes, roles and names. */
export type BoardCore = Pick<Core, keyof typeof boardCalls | 'boards:show'>

export interface BoardCoreParts {
  readonly boards: WorkshopBoards
  readonly judging: Judging
  readonly cards: CardPorts
  readonly texts: WorkshopTexts
  readonly observer: CardObserver
  readonly paths: Pick<WorkshopPaths, 'imageAt'>
  readonly pages: Pick<PreparedFolders, 'requirePlaceOfPage' | 'writePage'>
}

export function boardCoreOf(parts: BoardCoreParts): BoardCore {
  const { boards, judging, cards, texts, observer, paths, pages } = parts
  const { database, toolVersion } = cards
  const ports: BoardPorts = {
    listBoards: () => boards.all(),
    getBoard: (boardId) => boards.get(boardId),
    listSchemes: async () => (await boards.schemes()).map(({ scheme }) => scheme),
    texts,
    observer,
    sha256Hex: (text) => createHash('sha256').update(text, 'utf8').digest('hex'),
  }
  const versionPorts: BoardVersionPorts = { ...ports, records: database.records }
  const rolePorts: RolePorts = {
    database,
    texts,
    readRoles: async () => roleReadingOf(await boards.schemes(), toolVersion),
  }
  const getBoard: CardPorts['getBoard'] = (id) => cards.getBoard(id)
  /** A request whose page, where one is wanted, has its whole path. */
  const withPlace = <R extends { reportPath?: string | undefined }>(request: R): R =>
    request.reportPath === undefined ? request : { ...request, reportPath: paths.imageAt(request.reportPath) }
  return {
    'boards:test': (request) => testBoard(request, ports),
    'boards:new': (request) => newBoard(request, ports),
    'boards:save': (request) => saveBoard(request, ports),
    'boards:show': (request) => showBoard(request, versionPorts),
    'boards:versions': (request) => listBoardVersions(request, versionPorts),
    'boards:rules': (request) => listRules(request, versionPorts),
    'boards:diff': (request) => compareBoards(request, (word) => boardByWord(word, versionPorts)),
    'boards:draft': (request, control) => draftBoardFrom(request, ports, control),
    'boards:learn': (request, control) =>
      learnFromSounds(request, { ...ports, library: database.library }, control),
    'schemes:list': async () => {
      const [schemes, problems] = await Promise.all([boards.schemes(), boards.schemeProblems()])
      return {
        schemes: schemes.map(({ scheme, source }) => schemeSummaryOf(scheme, source)),
        problems: problems.map((problem) => problem.message),
      }
    },
    'roles:show': (request) => showRoles(request, rolePorts),
    'roles:set': (request) => setRoles(request, rolePorts),
    'roles:forget': (request) => forgetRoles(request, rolePorts),
    'roles:keep-scheme': (request) => keepScheme(request, rolePorts),
    translate: (request) => translateNames(request, cards),
    'check:card': (request, control) =>
      checkCard(withPlace(request), { getBoard, observer, pages, toolVersion }, control),
    'check:report': (request, control) =>
      checkReport(withPlace(request), { database, getBoard, judging, pages, toolVersion }, control),
  }
}
