import { listed } from '../../boards/in-words.ts'
import type { Edition } from '../../model/library.ts'
import type { ConversionAllowed, Licence } from '../../model/records.ts'

const NOT_ADVICE = 'This is a record, not legal advice.'

type Answer = ConversionAllowed | 'no licence'

/** Each font whose sounds would be converted, once: those of the editions, and those that lend them sounds. */
export function fontsConverted(editions: readonly Edition[]): ReadonlyMap<string, string> {
  return new Map(
    editions.flatMap(({ font, sounds }) => [
      [font.id, font.name] as const,
      ...sounds.flatMap(({ source }) =>
        source === undefined ? [] : [[source.fontId, source.fontName] as const],
      ),
    ]),
  )
}

/**
 * What licences on record say against converting, one sentence for each kind of answer and the
 * strongest first; fonts whose licence allows it are not mentioned.
 *
 * @param fonts names by id
 */
export function licenceCautions(
  fonts: ReadonlyMap<string, string>,
  licences: readonly Licence[],
): readonly string[] {
  const namesWith = (wanted: Answer) =>
    [...fonts].filter(([id]) => answerFor(id, licences) === wanted).map(([, name]) => name)
  const told = (wanted: Answer, sentence: (names: string, many: boolean) => string) => {
    const names = namesWith(wanted)
    return names.length === 0 ? [] : [`${sentence(listed(names, 'and'), names.length > 1)} ${NOT_ADVICE}`]
  }
  return [
    ...told(
      'no',
      (names, many) =>
        `Conversion is not allowed by the ${many ? 'licences' : 'licence'} on record for ${names}: do not prepare these sounds, and put no prepared copy of them on a card, unless ${many ? 'their creators have' : 'the creator has'} agreed in writing.`,
    ),
    ...told('unknown', (names, many) =>
      many
        ? `The licences on record for ${names} do not say whether sounds may be converted: ask their creators, and record each answer with its licence.`
        : `The licence on record for ${names} does not say whether sounds may be converted: ask the creator, and record the answer with the licence.`,
    ),
    ...told(
      'no licence',
      (names, many) =>
        `No licence is on record for ${names}: make sure that ${many ? 'their creators allow' : 'its creator allows'} sounds to be converted.`,
    ),
  ]
}

/** Of several licences of a font, one that allows it is enough; where none does, one that forbids it counts. */
function answerFor(fontId: string, licences: readonly Licence[]): Answer {
  const answers = licences.filter((licence) => licence.fontId === fontId).map(answerOf)
  if (answers.length === 0) return 'no licence'
  return (['yes', 'no'] as const).find((answer) => answers.includes(answer)) ?? 'unknown'
}

/** Who made a font asks nobody, unless the record says otherwise. */
function answerOf({ kind, conversionAllowed }: Licence): ConversionAllowed {
  return kind === 'own' && conversionAllowed === 'unknown' ? 'yes' : conversionAllowed
}
