import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { demoFilesOf } from '../../../../app/usecases/demo/demo-files.ts'
import { readScenario } from '../../../../app/usecases/demo/scenario.ts'
import { sineOfTurns } from '../../../../app/usecases/demo/sine-of-turns.ts'

const scenario = readScenario(
  readFileSync(new URL('../../../../resources/demo/scenario.yaml', import.meta.url), 'utf8'),
)
const filesOf = (name: string) =>
  demoFilesOf(
    scenario,
    scenario.fonts.find((font) => font.name === name)!,
  )
const bytesOf = (font: string, path: string) => {
  const contents = filesOf(font)
    .find((file) => file.path === path)!
    .contents()
  return typeof contents === 'string' ? new TextEncoder().encode(contents) : contents
}
const view = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)

describe('the demo', () => {
  test('has six fonts by four creators and three builds with two to five fonts', () => {
    expect(scenario.fonts).toHaveLength(6)
    expect(new Set(scenario.fonts.map((font) => font.creator))).toEqual(
      new Set(scenario.creators.map((creator) => creator.name)),
    )
    expect(scenario.creators).toHaveLength(4)
    expect(
      scenario.builds.map((build) => build.fonts.length).every((count) => count >= 2 && count <= 5),
    ).toBe(true)
    expect(scenario.builds).toHaveLength(3)
  })

  test('names only fonts, files and builds that it has', () => {
    const fonts = new Set(scenario.fonts.map((font) => font.name))
    const named = [
      ...scenario.licences.map((licence) => licence.font),
      ...scenario.builds.flatMap((build) => build.fonts),
      ...scenario.faults.map((fault) => fault.font),
    ]
    expect(named.filter((name) => !fonts.has(name))).toEqual([])
    expect(scenario.builds.map((build) => build.code)).toContain(scenario.firstCard.build)
    for (const { font, path, plant } of scenario.faults) {
      if (path === null || plant.litter !== undefined) continue
      expect(Object.keys(scenario.fonts.find((each) => each.name === font)!.sounds)).toContain(path)
    }
  })

  test('gives the same bytes on every machine, down to the last bit', async () => {
    const lines = scenario.fonts.flatMap((font) =>
      demoFilesOf(scenario, font).map((file) => {
        const hash = createHash('sha256').update(file.contents()).digest('hex')
        return `${hash}  ${font.name}/${file.path}`
      }),
    )
    await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot('../../../golden/demo-files.txt')
  })
})

describe('planted faults', () => {
  test('a sound at another sample rate says so in its header', () => {
    expect(view(bytesOf('Thornwick', 'swing-02.wav')).getUint32(24, true)).toBe(48_000)
  })
  test('a stereo and a 24-bit sound say so in their headers', () => {
    expect(view(bytesOf('Thornwick', 'music.wav')).getUint16(22, true)).toBe(2)
    expect(view(bytesOf('Thornwick', 'boot.wav')).getUint16(34, true)).toBe(24)
  })
  test('a chunk lies before the data of one sound, and the sizes still agree', () => {
    const bytes = bytesOf('Thornwick', 'retract-01.wav')
    expect(Buffer.from(bytes.subarray(36, 40)).toString('latin1')).toBe('note')
    expect(view(bytes).getUint32(4, true)).toBe(bytes.length - 8)
    const dataAt = 36 + 8 + view(bytes).getUint32(40, true)
    expect(Buffer.from(bytes.subarray(dataAt, dataAt + 4)).toString('latin1')).toBe('data')
    expect(view(bytes).getUint32(dataAt + 4, true)).toBe(bytes.length - dataAt - 8)
  })
  test('a number is missing from a row of swings', () => {
    const swings = filesOf('Ninth Anvil')
      .map((file) => file.path)
      .filter((path) => path.startsWith('swing'))
    expect(swings).toEqual(['swing-01.wav', 'swing-02.wav', 'swing-04.wav'])
  })
  test('litter is written byte for byte', () => {
    expect([...bytesOf('Ninth Anvil', 'Thumbs.db')]).toEqual([0xd0, 0xcf, 0x11, 0xe0])
  })
})

test('the sine by polynomial stays within a millionth of the real one', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), (turns) => {
      expect(Math.abs(sineOfTurns(turns) - Math.sin(2 * Math.PI * (turns - Math.floor(turns))))).toBeLessThan(
        1e-6,
      )
    }),
  )
})
