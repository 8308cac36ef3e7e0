import { expect, test } from 'vitest'
import type { PeaksArchive } from '../../app/ports/peaks-archive.ts'

/** What any PeaksArchive must do. */
export function peaksArchiveSuite(open: () => PeaksArchive): void {
  const named = (sha256: string, ...bytes: number[]) => ({ sha256, bytes: Uint8Array.from(bytes) })

  test('what was appended is read back from its place, in the order it was given', async () => {
    const archive = open()
    const places = await archive.append([named('a', 1, 2, 3), named('b'), named('c', 9)])
    expect(places.map(({ sha256, lengthBytes }) => [sha256, lengthBytes])).toEqual([
      ['a', 3],
      ['b', 0],
      ['c', 1],
    ])
    const read = await Promise.all(places.map((place) => archive.read(place)))
    expect(read.map((bytes) => [...bytes])).toEqual([[1, 2, 3], [], [9]])
  })

  test('appends that run at once do not overlap', async () => {
    const archive = open()
    const rounds = await Promise.all(
      Array.from({ length: 20 }, (_, index) => archive.append([named(`s${index}`, index, index)])),
    )
    for (const [index, [place]] of rounds.entries()) {
      if (place === undefined) throw new Error('no place')
      expect([...(await archive.read(place))]).toEqual([index, index])
    }
  })

  test('nothing to append takes no place', async () => {
    expect(await open().append([])).toEqual([])
  })

  test('a place that is not there is told as lost', async () => {
    const archive = open()
    const [place] = await archive.append([named('a', 1, 2, 3)])
    if (place === undefined) throw new Error('no place')
    await expect(archive.read({ ...place, lengthBytes: 400 })).rejects.toMatchObject({ code: 'peaks/lost' })
    await expect(archive.read({ ...place, pack: '../../etc/hostname' })).rejects.toMatchObject({
      code: 'peaks/lost',
    })
  })
}
