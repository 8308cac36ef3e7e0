import type { InspectedSound } from '../../ports/sound-inspector.ts'
import type { RootScan } from './root-scan.ts'

/**
 * Takes what reading a sound has told, and tells what is wrong with it.
 * @returns its hash; null where the file could not be read
 */
export function takeInspected(scan: RootScan, path: string, inspected: InspectedSound): string | null {
  const { sha256, sizeBytes } = inspected.inspection
  scan.progress.read(path)
  const problem = problemOf(inspected)
  if (problem !== null) scan.out.fault(path, problem.code, problem.message)
  if (sha256 === '') return null
  scan.out.filesRead += 1
  scan.out.bytesRead += sizeBytes
  scan.keeper.add(inspected)
  return sha256
}

/** A file that reads well as a file and has no sound in it has not been read either. */
function problemOf({ inspection: { problem, facts } }: InspectedSound) {
  if (problem !== null || facts === null || (facts.frames ?? 0) > 0) return problem
  const why = facts.defects.find(({ code }) => code === 'no-fmt' || code === 'no-data')
  const message = `No sound can be read from it. ${why?.message ?? 'It has no samples.'}`
  return { code: 'sound/no-samples', message }
}
