import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { counted, fontInWords } from './in-words.ts'

export type Kept = ResponseOf<'originals:keep'>['kept']

/** What entered the store and what could not, one sentence each; empty where nothing did. */
export function keptInWords({ fonts, problems }: Kept): readonly string[] {
  return [
    ...fonts.map(
      ({ font, version, files, bytes }) =>
        `Kept in the workshop: ${counted(files, 'original')} of ${fontInWords(font, version)}, ${inUnits(bytes)}.`,
    ),
    ...problems.map((problem) => `Not kept: ${problem}`),
  ]
}

/** What a call's answer says was kept; null where it says nothing of it. */
export function keptIn(value: unknown): Kept | null {
  const kept = (value as { readonly kept?: Kept } | null | undefined)?.kept
  return kept === undefined ? null : kept
}
