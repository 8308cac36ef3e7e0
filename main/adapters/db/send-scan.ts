import { createHash } from 'node:crypto'
import type { NewId } from '../../../app/ports/machine.ts'
import type { Rows, ScanApplied, ScannedEdition, ScanOutcome } from '../../../app/ports/library-records.ts'
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
  const ahead = oneAhead()
  for (const part of bySounds(editions, (edition) => edition)) {
    await ahead.send(steps.scanHeads(part.map(headOf)))
  }
  await ahead.end()
}

async function sendWanted(
  steps: ScanSteps,
  editions: readonly ScannedEdition[],
  wanted: readonly number[],
  newId: NewId,
): Promise<void> {
  const editionOf = (number: number) => {
    const edition = editions[number]
    if (edition === undefined) throw new RangeError(`the scan has no edition ${number}`)
    return edition
  }
  const ahead = oneAhead()
  for (const part of bySounds(wanted, editionOf)) {
    const numbered = part.map((number): NumberedEdition => {
      const edition = editionOf(number)
      const ids = Array.from({ length: IDS_OF_AN_EDITION + edition.sounds.length }, () => newId())
      return { number, edition, ids }
    })
    await ahead.send(steps.scanEditions(numbered))
  }
  await ahead.end()
}

async function inSteps<T>(
  rows: Rows<T>,
  stepRows: number,
  send: (part: readonly T[]) => Promise<void>,
): Promise<void> {
  const ahead = oneAhead()
  for (let start = 0; start < rows.length; start += stepRows) {
    await ahead.send(send(rows.slice(start, start + stepRows)))
  }
  await ahead.end()
}

/** Parts of some STEP_ROWS sounds. */
function* bySounds<T>(items: readonly T[], editionOf: (item: T) => ScannedEdition): Generator<readonly T[]> {
  let part: T[] = []
  let sounds = 0
  for (const item of items) {
    part.push(item)
    sounds += editionOf(item).sounds.length
    if (sounds < STEP_ROWS) continue
    yield part
    part = []
    sounds = 0
  }
  if (part.length > 0) yield part
}

/** Lets one step be made ready while the one before is being written, and no more than that. */
function oneAhead() {
  let before: Promise<void> = Promise.resolve()
  return {
    send: async (step: Promise<void>): Promise<void> => {
      // A failure of this step is met by the next, or at the end.
      step.catch(() => undefined)
      const done = before
      before = step
      await done
    },
    end: (): Promise<void> => before,
  }
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
