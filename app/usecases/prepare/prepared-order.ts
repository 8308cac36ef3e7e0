import { cardOrderOf, type CardOrder, type CardSelection } from '../card-order.ts'
import type { CardPorts } from '../card-ports.ts'
import { preparedCopies } from './prepared-copy.ts'

/**
 * What a request names, as it goes on a card: sounds that were prepared for the board stand in for
 * their originals.
 * @throws AppError of `cardOrderOf`
 */
export async function preparedOrderOf(
  selection: CardSelection,
  ports: Pick<CardPorts, 'database' | 'getBoard'>,
): Promise<CardOrder> {
  const order = await cardOrderOf(selection, ports)
  return { ...order, editions: await preparedCopies(order.editions, order.board.hash, ports.database) }
}
