import type { Content } from '../model/content.ts'
import type { SingleSound } from '../model/single-sound.ts'
import type { KeptOriginalsReader, KeptOriginalsWriter } from './kept-originals.ts'
import type {
  Build,
  ConfigVersion,
  Creator,
  JournalEntry,
  Licence,
  NewBuild,
  NewCreator,
  NewLicence,
} from '../model/records.ts'

/** Reading creators, licences, builds and contents. Lists are sorted by name or code, contents newest first. */
export interface RecordsReader extends KeptOriginalsReader {
  listCreators(): Promise<readonly Creator[]>
  /** Exact match of the name, upper and lower case alike. */
  findCreatorByName(name: string): Promise<Creator | undefined>
  listLicences(): Promise<readonly Licence[]>
  listLicencesOfFonts(fontIds: readonly string[]): Promise<readonly Licence[]>
  listBuilds(): Promise<readonly Build[]>
  /** Upper and lower case alike. */
  findBuildByCode(code: string): Promise<Build | undefined>
  /** Configs that a build had, newest first. */
  listConfigVersions(buildId: string): Promise<readonly ConfigVersion[]>
  listContents(): Promise<readonly Content[]>
  /** By its ten-character fingerprint. */
  findContent(fingerprint: string): Promise<Content | undefined>
  findSetting(key: string): Promise<string | undefined>
  /** Text of a board as it was when something was recorded with it. */
  findBoardText(boardHash: string): Promise<string | undefined>
  /** Every board text that was kept, newest first. */
  listBoardTexts(): Promise<
    readonly { readonly hash: string; readonly boardId: string; readonly keptAt: string }[]
  >
  /** Newest first. */
  listJournal(limit: number): Promise<readonly JournalEntry[]>
}

/** Writing records; only inside `inTransaction`. Every call is journalled by the adapter. */
export interface RecordsWriter extends KeptOriginalsWriter {
  addCreator(creator: NewCreator): Promise<Creator>
  /** @throws AppError `creator/unknown` */
  changeCreator(id: string, change: Partial<NewCreator>): Promise<Creator>
  addLicence(licence: NewLicence): Promise<Licence>
  /** @throws AppError `licence/unknown` */
  changeLicence(id: string, change: Partial<NewLicence>): Promise<Licence>
  /** @throws AppError `licence/unknown` */
  removeLicence(id: string): Promise<void>
  /** @throws AppError `build/code-taken` */
  addBuild(build: NewBuild): Promise<Build>
  /** @throws AppError `build/unknown` */
  changeBuild(id: string, change: Partial<NewBuild>): Promise<Build>
  /** Puts these in the place of what the build had. @throws AppError `build/unknown`, `font/unknown` */
  setSingleSounds(buildId: string, sounds: readonly SingleSound[]): Promise<Build>
  /** Written only after a verify held. An equal fingerprint is kept as it was first made. */
  addContent(content: Content): Promise<void>
  /**
   * Takes the place of the record of an equal fingerprint, whose documents were written anew since the
   * licences on record changed. @throws AppError `content/unknown`
   */
  replaceContent(content: Content): Promise<void>
  keepBoardText(boardHash: string, boardId: string, text: string): Promise<void>
  setSetting(key: string, value: string): Promise<void>
}
