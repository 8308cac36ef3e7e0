import { fromReport, type ErrorReport } from '../../errors/app-error.ts'

/**
 * Ends the work where the disk is full: every other sound would meet the same.
 * @throws AppError `prepare/disk-full`
 */
export function refuseFullDisk(problem: ErrorReport): void {
  if (problem.code === 'prepare/disk-full') throw fromReport({ ...problem, kind: 'machine' })
}
