import type { ResponseOf } from '../contract/calls.ts'
import type { Content } from '../model/content.ts'
import type { CardOrder } from './card-order.ts'
import type { KeptNow } from './keep-editions.ts'
import type { LaidOutCard } from './lay-out-card.ts'
import { sizeReportOf } from './size-report.ts'

type MadeReport = Pick<
  ResponseOf<'make'>,
  'fingerprint' | 'board' | 'build' | 'size' | 'fonts' | 'withoutLicence' | 'kept'
>

/** What the doors are told of a content that was made, in whichever form. */
export function madeReportOf(
  content: Content,
  order: CardOrder,
  laidOut: LaidOutCard,
  cardBytes: number | null,
  kept: KeptNow,
): MadeReport {
  const licensed = new Set(laidOut.licences.map((licence) => licence.fontId))
  return {
    fingerprint: content.fingerprint,
    board: order.board.id,
    build: order.build?.code ?? null,
    size: sizeReportOf(laidOut, order.board, cardBytes),
    fonts: content.fonts.map(({ slot, folder, fontName, version }) => ({
      slot,
      folder,
      font: fontName,
      version,
    })),
    withoutLicence: content.fonts.filter((font) => !licensed.has(font.fontId)).map((font) => font.fontName),
    kept,
  }
}
