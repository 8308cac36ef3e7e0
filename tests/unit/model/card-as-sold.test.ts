import { expect, test } from 'vitest'
import { readCardSize } from '../../../app/model/card-as-sold.ts'

test.each([
  { text: '16GB', want: { cardBytes: 15_360_000_000, isAsSold: true } },
  { text: '16 gb', want: { cardBytes: 15_360_000_000, isAsSold: true } },
  { text: '0.5GB', want: { cardBytes: 480_000_000, isAsSold: true } },
  { text: '512MiB', want: { cardBytes: 536_870_912, isAsSold: false } },
  { text: '512000000', want: { cardBytes: 512_000_000, isAsSold: false } },
  { text: '1000 B', want: { cardBytes: 512, isAsSold: false } },
])('$text is read as $want.cardBytes bytes', ({ text, want }) => {
  expect(readCardSize(text)).toEqual(want)
})

test.each(['', 'GB', '-1GB', '16 giga', '0', '100', '1e9', '16GBB', '99999999999999GB', '१६GB'])(
  '"%s" is no size',
  (text) => expect(readCardSize(text)).toBeUndefined(),
)
