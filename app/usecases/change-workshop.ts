import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import { USUAL_SPEAKER_SETTING, usualSpeakerLimit } from './speaker-limit.ts'

/** Setting of the name that stands in the journal; empty or missing for the account's. */
export const WHO_SETTING = 'workshop.who'

/**
 * Changes what the workshop keeps of itself; what is not told stays.
 * @param account name that stands in the journal where none is set
 */
export async function changeWorkshop(
  { who, speakerLowLimitHz }: RequestOf<'workshop:change'>,
  { records, inTransaction }: Pick<WorkshopDatabase, 'records' | 'inTransaction'>,
  account: string,
): Promise<ResponseOf<'workshop:change'>> {
  await inTransaction(async (transaction) => {
    if (who !== undefined) await transaction.records.setSetting(WHO_SETTING, who.trim())
    if (speakerLowLimitHz !== undefined) {
      await transaction.records.setSetting(USUAL_SPEAKER_SETTING, String(speakerLowLimitHz ?? ''))
    }
  })
  const named = (await records.findSetting(WHO_SETTING)) ?? ''
  return {
    who: named === '' ? account : named,
    speakerLowLimitHz: await usualSpeakerLimit(records),
  }
}
