import type { ResponseOf } from '../../contract/calls.ts'
import type { CardOrder } from '../card-order.ts'
import { fontsConverted, licenceCautions } from './licence-cautions.ts'
import type { PreparePorts } from './prepare-ports.ts'

/** What a person should know before they use what was made. */
export async function cautionsFor(
  { editions }: Pick<CardOrder, 'editions'>,
  rows: readonly Pick<ResponseOf<'prepare'>['fonts'][number], 'gainDb'>[],
  { database }: Pick<PreparePorts, 'database'>,
): Promise<readonly string[]> {
  const raised = rows.filter(({ gainDb }) => (gainDb ?? 0) > 0)
  const highest = Math.max(...raised.map(({ gainDb }) => gainDb ?? 0))
  const fonts = fontsConverted(editions)
  const licences = await database.records.listLicencesOfFonts([...fonts.keys()])
  return [
    ...(raised.length === 0
      ? []
      : [
          `Sounds are raised by up to ${highest.toFixed(1)} dB: a raised level can destroy a small speaker, so play them quietly the first time.`,
        ]),
    ...licenceCautions(fonts, licences),
  ]
}
