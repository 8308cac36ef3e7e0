/** A moment as FAT keeps it (FAT 1.03, "Date and Time Formats"); UTC. */
export interface DosTime {
  readonly date: number
  /** In steps of two seconds. */
  readonly time: number
  /** Tenths of the creation's odd second: 0 or 100 hundredths. */
  readonly hundredths: number
}

/**
 * @param isoDate ISO 8601 in UTC with whole seconds, `2026-11-25T09:30:00Z`; years outside 1980 to
 *   2107 become the nearest that FAT knows
 * @throws RangeError for another form: a caller's bug
 */
export function dosTimeOf(isoDate: string): DosTime {
  const match = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)Z$/.exec(isoDate)
  if (match === null) throw new RangeError(`date "${isoDate}"`)
  const [year = 0, month = 0, day = 0, hours = 0, minutes = 0, seconds = 0] = match.slice(1).map(Number)
  if (year < 1980) return { date: (1 << 5) | 1, time: 0, hundredths: 0 }
  if (year > 2107)
    return { date: (127 << 9) | (12 << 5) | 31, time: (23 << 11) | (59 << 5) | 29, hundredths: 100 }
  return {
    date: ((year - 1980) << 9) | (month << 5) | day,
    time: (hours << 11) | (minutes << 5) | (Math.min(seconds, 59) >> 1),
    hundredths: seconds % 2 === 1 ? 100 : 0,
  }
}
