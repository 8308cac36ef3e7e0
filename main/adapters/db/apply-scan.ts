import type { ScanApplied } from '../../../app/ports/library-records.ts'
import { applyEdition } from './apply-edition.ts'
import { putInspections, putPeaksPlaces } from './inspection-rows.ts'
import { refuseUnknownRoot, settleEditionStates } from './library-writes.ts'
import { followMovedNames } from './match-font.ts'
import { startFiles } from './scan-files.ts'
import { startRun, type ScanRun } from './scan-run.ts'
import type { ScanSteps } from './scan-steps.ts'
import type { WriteContext } from './write-context.ts'

/** Receives the steps of a scan; see scan-steps.ts. One scan at a time, inside one transaction. */
export function scanWrites(context: WriteContext): ScanSteps {
  const { connection } = context
  let current: ScanRun | undefined
  const run = () => {
    if (current === undefined) throw new RangeError('a step of a scan came before its beginning')
    return current
  }
  return {
    async beginScan(rootId, at) {
      current = undefined
      await refuseUnknownRoot(context, rootId)
      current = startRun(rootId, at, startFiles(connection, rootId))
    },
    async scanInspections(inspections) {
      putInspections(connection, inspections)
    },
    async scanPeaks(places) {
      putPeaksPlaces(connection, places)
    },
    async scanFiles(files) {
      run().files.put(files)
    },
    async scanHeads(heads) {
      run().addHeads(heads)
    },
    async scanWanted() {
      return wantedEditions(context, run())
    },
    async scanEditions(editions) {
      for (const numbered of editions) applyEdition(context, run(), numbered)
    },
    async finishScan(problems, treeDigest) {
      const { rootId, at, files, seenPlaces, counts, moved } = run()
      current = undefined
      files.removeUnseen()
      const places = connection
        .prepare("SELECT id FROM place WHERE root_id = ? AND state = 'present'")
        .pluck()
      const markGone = connection.prepare("UPDATE place SET state = 'gone' WHERE id = ?")
      for (const id of places.all(rootId) as string[]) if (!seenPlaces.has(id)) markGone.run(id)
      const gone = settleEditionStates(context)
      for (const edition of moved) followMovedNames({ ...context, newId: () => edition.id }, edition)
      connection.prepare('DELETE FROM scan_problem WHERE root_id = ?').run(rootId)
      const putProblem = connection.prepare(
        `INSERT INTO scan_problem (root_id, position, path, code, message, severity) VALUES (?, ?, ?, ?, ?, ?)`,
      )
      for (const [position, { path, code, message, severity }] of problems.entries()) {
        putProblem.run(rootId, position, path, code, message, severity)
      }
      connection
        .prepare('UPDATE root SET last_scan_at = ?, tree_digest = ? WHERE id = ?')
        .run(at, treeDigest, rootId)
      context.journal('scanned', 'root', rootId)
      return { ...counts, gone } satisfies ScanApplied
    },
  }
}

/**
 * Those of which something is new. Editions whose sounds are as they were come first: a place that
 * still holds an edition keeps it, before one that has changed could take it along.
 */
function wantedEditions({ connection }: WriteContext, run: ScanRun): readonly number[] {
  const find = connection.prepare(
    `SELECT place.id, edition_id, place.state, scan_digest, edition.sounds_hash FROM place
     JOIN edition ON edition.id = edition_id
     WHERE root_id = ? AND path = ? AND ifnull(inner_path, '') = ?`,
  )
  const soundsOf = connection.prepare('SELECT sounds_hash FROM edition WHERE id = ?').pluck()
  const asTheyWere: number[] = []
  const others: number[] = []
  for (const [number, head] of run.heads.entries()) {
    const place = find.get(run.rootId, head.path, head.innerPath ?? '') as
      { id: string; edition_id: string; state: string; scan_digest: string } | undefined
    if (place !== undefined) run.seenPlaces.add(place.id)
    const isKnown = place !== undefined && place.state === 'present' && place.edition_id === head.editionId
    if (isKnown && place.scan_digest === head.digest) {
      run.counts.unchanged += 1
      continue
    }
    const isAsItWas = head.editionId !== null && soundsOf.get(head.editionId) === head.soundsHash
    ;(isAsItWas ? asTheyWere : others).push(number)
  }
  return [...asTheyWere, ...others]
}
