import type { Build } from '../model/records.ts'
import type { RecordsReader } from '../ports/bench-records.ts'

/** Setting of the workshop: lowest frequency of the speaker that is usual there, in Hz; empty for none. */
export const USUAL_SPEAKER_SETTING = 'speaker.lowLimitHz'

/** Low limit of the workshop's usual speaker, in Hz; null where nobody told. */
export async function usualSpeakerLimit(records: Pick<RecordsReader, 'findSetting'>): Promise<number | null> {
  const told = Number((await records.findSetting(USUAL_SPEAKER_SETTING)) ?? '')
  return Number.isFinite(told) && told > 0 ? told : null
}

/** Low limit by which sounds are heard: the build's speaker, else the workshop's usual one, else null. */
export async function speakerLimitOf(
  build: Pick<Build, 'speakerLowLimitHz'> | null,
  records: Pick<RecordsReader, 'findSetting'>,
): Promise<number | null> {
  return build?.speakerLowLimitHz ?? usualSpeakerLimit(records)
}
