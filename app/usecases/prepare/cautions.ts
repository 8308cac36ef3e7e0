import type { ResponseOf } from '../../contract/calls.ts'
import type { CardOrder } from '../card-order.ts'
import type { PreparePorts } from './prepare-ports.ts'

/** What a person should know before they use what was made. */
export async function cautionsFor(
  { editions }: CardOrder,
  rows: ResponseOf<'prepare'>['fonts'],
  { database }: Pick<PreparePorts, 'database'>,
): Promise<readonly string[]> {
  const raised = rows.filter(({ gainDb }) => (gainDb ?? 0) > 0)
  const highest = Math.max(...raised.map(({ gainDb }) => gainDb ?? 0))
  const fontIds = [...new Set(editions.map(({ font }) => font.id))]
  const licensed = new Set((await database.records.listLicencesOfFonts(fontIds)).map(({ fontId }) => fontId))
  const bare = editions.filter(({ font }) => !licensed.has(font.id)).map(({ font }) => font.name)
  return [
    ...(raised.length === 0
      ? []
      : [
          `Sounds are raised by up to ${highest.toFixed(1)} dB: a raised level can destroy a small speaker, so play them quietly the first time.`,
        ]),
    ...(bare.length === 0
      ? []
      : [
          `No licence is on record for ${bare.join(', ')}: make sure that its creator allows sounds to be converted. This is a record, not legal advice.`,
        ]),
  ]
}
