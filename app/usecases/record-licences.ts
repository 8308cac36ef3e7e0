import { AppError } from '../errors/app-error.ts'
import type { ConversionAllowed, Licence, NewLicence } from '../model/records.ts'
import type { LibraryReader } from '../ports/library-records.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** A licence as it is told: what is not said about conversion is unknown. */
type ToldLicence = Omit<NewLicence, 'conversionAllowed'> & {
  readonly conversionAllowed?: ConversionAllowed | undefined
}

/** @throws AppError `font/unknown`, `licence/no-such-day` */
export async function addLicence(database: WorkshopDatabase, told: ToldLicence): Promise<Licence> {
  const licence = { ...told, conversionAllowed: told.conversionAllowed ?? 'unknown' }
  refuseImpossibleDay(licence.grantedOn)
  return database.inTransaction(async ({ library, records }) => {
    await refuseUnknownFont(library, licence.fontId)
    return records.addLicence(licence)
  })
}

/** @throws AppError `licence/unknown`, `font/unknown`, `licence/no-such-day` */
export async function changeLicence(
  database: WorkshopDatabase,
  id: string,
  change: Partial<NewLicence>,
): Promise<Licence> {
  if (change.grantedOn !== undefined) refuseImpossibleDay(change.grantedOn)
  return database.inTransaction(async ({ library, records }) => {
    if (change.fontId !== undefined) await refuseUnknownFont(library, change.fontId)
    return records.changeLicence(id, change)
  })
}

/** @throws AppError `licence/unknown` */
export async function removeLicence(database: WorkshopDatabase, id: string): Promise<void> {
  await database.inTransaction(({ records }) => records.removeLicence(id))
}

async function refuseUnknownFont(library: LibraryReader, fontId: string): Promise<void> {
  const editions = await library.listEditions()
  if (editions.some((edition) => edition.font.id === fontId)) return
  throw new AppError({
    code: 'font/unknown',
    what: 'The library has no font of this id.',
    where: fontId,
    mend: '`fonts list` shows all fonts.',
  })
}

const DAYS_OF_MONTH = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** The shape `YYYY-MM-DD` is the contract's to hold; here the 31st of April is refused. */
function refuseImpossibleDay(day: string): void {
  if (day === '') return
  const [year = 0, month = 0, ofMonth = 0] = day.split('-').map(Number)
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
  const most = month === 2 && !leap ? 28 : (DAYS_OF_MONTH[month - 1] ?? 0)
  if (ofMonth >= 1 && ofMonth <= most) return
  throw new AppError({
    code: 'licence/no-such-day',
    what: 'There is no such day.',
    where: day,
    mend: 'Write it as year-month-day, such as 2026-04-30.',
  })
}
