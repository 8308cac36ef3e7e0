import type { ResponseOf } from '../../contract/calls.ts'
import type { CardOrder } from '../card-order.ts'
import { fontsConverted, licenceCautions } from './licence-cautions.ts'
import type { PreparePorts } from './prepare-ports.ts'

type SoundRow = ResponseOf<'prepare'>['fonts'][number]['sounds'][number]

/** What a person should know before they use what was made. */
export async function cautionsFor(
  { editions }: Pick<CardOrder, 'editions'>,
  rows: readonly Pick<ResponseOf<'prepare'>['fonts'][number], 'sounds'>[],
  { database }: Pick<PreparePorts, 'database'>,
): Promise<readonly string[]> {
  // Music has a gain of its own, and the user may have given any sound one.
  const gains = rows.flatMap(({ sounds }) => sounds.flatMap(({ steps }) => steps.flatMap(gainOf)))
  const highest = Math.max(0, ...gains)
  const fonts = fontsConverted(editions)
  const licences = await database.records.listLicencesOfFonts([...fonts.keys()])
  return [
    ...(highest <= 0
      ? []
      : [
          `Sounds are raised by up to ${highest.toFixed(1)} dB: a raised level can destroy a small speaker, so play them quietly the first time.`,
        ]),
    ...licenceCautions(fonts, licences),
  ]
}

function gainOf({ step, numbers }: SoundRow['steps'][number]): readonly number[] {
  const gainDb = numbers['gainDb']
  return step === 'gain' && typeof gainDb === 'number' ? [gainDb] : []
}
