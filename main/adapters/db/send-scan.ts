import { createHash } from 'node:crypto'
import type { NewId } from '../../../app/ports/machine.ts'
import type { ScanApplied, ScannedEdition, ScanOutcome } from '../../../app/ports/library-records.ts'
import { IDS_OF_AN_EDITION, type EditionHead, type NumberedEdition, type ScanSteps } from './scan-steps.ts'

/** Rows in one step: a few milliseconds for the thread that sends them. */
const STEP_ROWS = 1000
const STEP_INSPECTIONS = 250

/** Takes an outcome to the database's thread step by step, so that neither side holds it twice. */
export async function sendScan(steps: ScanSteps, outcome: ScanOutcome, newId: NewId): Promise<ScanApplied> {
  await steps.beginScan(outcome.rootId, outcome.at)
  await inSteps(outcome.newInspections, STEP_INSPECTIONS, (part) => steps.scanInspections(part))
  await inSteps(outcome.newPeaks, STEP_ROWS, (part) => steps.scanPeaks(part))
  await inSteps(outcome.files, STEP_ROWS, (part) => steps.scanFiles(part))
  await sendHeads(steps, outcome.editions)
  await sendWanted(steps, outcome.editions, await steps.scanWanted(), newId)
  return steps.finishScan(outcome.problems, outcome.treeDigest)
}

async function sendHeads(steps: ScanSteps, editions: readonly ScannedEdition[]): Promise<void> {
  let heads: EditionHead[] = []
  let sounds = 0
  for (const edition of editions) {
    heads.push(headOf(edition))
    sounds += edition.sounds.length
    if (sounds < STEP_ROWS) continue
    await steps.scanHeads(heads)
    heads = []
    sounds = 0
  }
  await steps.scanHeads(heads)
}

async function sendWanted(
  steps: ScanSteps,
  editions: readonly ScannedEdition[],
  wanted: readonly number[],
  newId: NewId,
): Promise<void> {
  let part: NumberedEdition[] = []
  let sounds = 0
  for (const number of wanted) {
    const edition = editions[number]
    if (edition === undefined) throw new RangeError(`the scan has no edition ${number}`)
    const ids = Array.from({ length: IDS_OF_AN_EDITION + edition.sounds.length }, () => newId())
    part.push({ number, edition, ids })
    sounds += edition.sounds.length
    if (sounds < STEP_ROWS) continue
    await steps.scanEditions(part)
    part = []
    sounds = 0
  }
  await steps.scanEditions(part)
}

/** One step is prepared while the one before is being written. */
async function inSteps<T>(
  rows: readonly T[],
  stepRows: number,
  send: (part: readonly T[]) => Promise<void>,
): Promise<void> {
  let before: Promise<void> = Promise.resolve()
  for (let start = 0; start < rows.length; start += stepRows) {
    const sent = send(rows.slice(start, start + stepRows))
    // A failure of this step is met in the next round, after that of the one before.
    sent.catch(() => undefined)
    await before
    before = sent
  }
  await before
}

function headOf(edition: ScannedEdition): EditionHead {
  const hashes = edition.sounds.map((sound) => sound.sha256).sort()
  const { place, fontName, version, proposedCreatorName, schemeId, sounds, companions, litter } = edition
  return {
    editionId: edition.editionId,
    path: place.path,
    innerPath: place.innerPath,
    soundsHash: sha256(hashes.join('\n')),
    digest: sha256(
      JSON.stringify([
        [fontName, version, proposedCreatorName, schemeId],
        sounds.map(({ path, sha256, place, roleSource }) => [
          path,
          sha256,
          place && [place.role, place.part, place.layer, place.number],
          roleSource,
        ]),
        companions.map(({ path, sizeBytes, sha256, kind }) => [path, sizeBytes, sha256, kind]),
        litter,
      ]),
    ),
  }
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}
