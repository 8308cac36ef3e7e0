import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { preparedOrderOf } from './prepare/prepared-order.ts'
import type { CardPorts } from './card-ports.ts'
import { countCard, type LayOutPorts } from './lay-out-card.ts'
import { sizeReportOf } from './size-report.ts'

/**
 * What a card would hold and what is free on it, from the same layout that `makeContent` writes. A
 * card that is too small is a report that says so, not an error.
 *
 * @throws AppError of `cardOrderOf` and `sizeOfCard`
 */
export async function sizeCard(
  request: RequestOf<'size'>,
  ports: LayOutPorts & Pick<CardPorts, 'getBoard'>,
): Promise<ResponseOf<'size'>> {
  const order = await preparedOrderOf(request, ports)
  const cardBytes = request.cardBytes ?? null
  return sizeReportOf(await countCard(order, cardBytes, ports), order.board, cardBytes)
}
