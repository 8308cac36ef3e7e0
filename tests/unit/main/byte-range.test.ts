import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readRange } from '../../../main/byte-range.ts'

test.each([
  { header: undefined, want: undefined },
  { header: 'bytes=0-', want: { start: 0, end: 100 } },
  { header: 'bytes=0-0', want: { start: 0, end: 1 } },
  { header: 'bytes=90-200', want: { start: 90, end: 100 } },
  { header: 'bytes=-10', want: { start: 90, end: 100 } },
  { header: 'bytes=-1000', want: { start: 0, end: 100 } },
  { header: 'bytes=100-', want: 'unsatisfiable' },
  { header: 'bytes=-0', want: 'unsatisfiable' },
  { header: 'bytes=5-2', want: undefined },
  { header: 'bytes=0-1,4-5', want: undefined },
  { header: 'bytes=-', want: undefined },
  { header: 'lines=1-2', want: undefined },
])('$header of 100 bytes', ({ header, want }) => expect(readRange(header, 100)).toEqual(want))

test('whatever is asked, a range lies inside the file', () => {
  fc.assert(
    fc.property(fc.string(), fc.nat(), fc.nat(), fc.nat(), (text, from, to, size) => {
      for (const header of [text, `bytes=${from}-${to}`, `bytes=-${to}`, `bytes=${from}-`]) {
        const range = readRange(header, size)
        if (typeof range !== 'object') continue
        expect(range.start >= 0 && range.start < range.end && range.end <= size).toBe(true)
      }
    }),
  )
})
