import type { RecordsReader, RecordsWriter } from '../../../app/ports/bench-records.ts'
import type { LibraryReader, LibraryWriter } from '../../../app/ports/library-records.ts'
import type { PreparationReader, PreparationWriter } from '../../../app/ports/preparation-records.ts'
import type { ScanSteps } from './scan-steps.ts'

/**
 * The calls that go to the database's thread, each with how many new ids it may need; the compiler sees
 * to it that none is missing.
 */
export const LIBRARY_READS: Readonly<Record<Exclude<keyof LibraryReader, 'getEdition'>, number>> = {
  listRoots: 0,
  findRootByPath: 0,
  listEditions: 0,
  getEditions: 0,
  findLastScan: 0,
  listKnownFiles: 0,
  findPeaks: 0,
  listPeaksPacks: 0,
  knownInspections: 0,
  listEditionIdentities: 0,
  listScanProblems: 0,
  findSound: 0,
  findContentPlaces: 0,
  findSpeakerLevels: 0,
  listSpeakerLevels: 0,
}

export const RECORDS_READS: Readonly<Record<keyof RecordsReader, number>> = {
  listCreators: 0,
  findCreatorByName: 0,
  listLicences: 0,
  listLicencesOfFonts: 0,
  listBuilds: 0,
  findBuildByCode: 0,
  listContents: 0,
  findContent: 0,
  findSetting: 0,
  findBoardText: 0,
  listBoardTexts: 0,
  listJournal: 0,
  listConfigVersions: 0,
  listKeptOriginals: 0,
  listOriginalsNeeds: 0,
}

export const LIBRARY_WRITES: Readonly<Record<Exclude<keyof LibraryWriter, 'applyScan'>, number>> = {
  addRoot: 1,
  removeRoot: 0,
  keepInspections: 0,
  keepSpeakerLevels: 0,
  noteUnchangedScan: 0,
  changeFont: 0,
  setPlaces: 0,
}

export const RECORDS_WRITES: Readonly<Record<keyof RecordsWriter, number>> = {
  addCreator: 1,
  changeCreator: 0,
  addLicence: 2,
  changeLicence: 1,
  removeLicence: 0,
  addBuild: 2,
  changeBuild: 1,
  setSingleSounds: 0,
  addKeptOriginals: 0,
  dropKeptOriginals: 0,
  addContent: 0,
  replaceContent: 0,
  keepBoardText: 0,
  setSetting: 0,
}

export const PREPARATION_READS: Readonly<Record<keyof PreparationReader, number>> = {
  findAnswers: 0,
  findPreparations: 0,
  listPreparedSounds: 0,
  findOutputs: 0,
  findInspections: 0,
  listRecipeChoices: 0,
}

export const PREPARATION_WRITES: Readonly<Record<keyof PreparationWriter, number>> = {
  keepAnswers: 0,
  keepPreparations: 0,
  keepPreparedSounds: 0,
  setRecipeChoice: 0,
  dropRecipeChoice: 0,
  dropRecipeChoices: 0,
}

/** A scan brings its ids with its editions. */
export const SCAN_STEPS: Readonly<Record<keyof ScanSteps, number>> = {
  beginScan: 0,
  scanInspections: 0,
  scanPeaks: 0,
  scanFiles: 0,
  scanHeads: 0,
  scanWanted: 0,
  scanEditions: 0,
  finishScan: 0,
}
