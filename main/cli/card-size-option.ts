import { InvalidArgumentError, Option } from 'commander'
import { readCardSize, type CardSizeAsked } from '../../app/model/card-as-sold.ts'
import { inUnits } from '../../app/model/in-units.ts'

/** `--card SIZE`, for size and make. */
export function cardSizeOption(): Option {
  return new Option(
    '--card <size>',
    'size of the card: 16GB as printed on it (taken as 4 % less), 512MiB or bytes exactly',
  ).argParser((text: string): CardSizeAsked => {
    const size = readCardSize(text)
    if (size === undefined)
      throw new InvalidArgumentError('It is no size; write 16GB, 512MiB or a number of bytes.')
    return size
  })
}

/** Says what a size as sold was taken for; empty where it was exact. */
export function toldSize(size: CardSizeAsked | undefined): readonly string[] {
  if (size?.isAsSold !== true) return []
  return [
    `The card is taken to hold ${size.cardBytes} bytes (${inUnits(size.cardBytes)}): as printed, less 4 %, since cards as sold differ.`,
  ]
}
