import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { printable } from './printable.ts'
import { counted } from './table.ts'

/** What entered the store, with the room it takes, and what could not; nothing where nothing did. */
export function keptLines({ fonts, problems }: ResponseOf<'originals:keep'>['kept']): string[] {
  return [
    ...fonts.map(
      ({ font, version, files, bytes }) =>
        `Kept in the workshop: ${counted(files, 'original')} of ${fontTitle(font, version)}, ${inUnits(bytes)}`,
    ),
    ...problems.map((problem) => `Not kept: ${problem}`),
  ].map(printable)
}
