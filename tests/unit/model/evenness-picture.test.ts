import { expect, test } from 'vitest'
import {
  evennessPicture,
  type FontToPicture,
  type PictureShape,
} from '../../../app/model/evenness-picture.ts'

const sound = (role: 'hum' | 'clash' | 'music', was: number | null, is: number | null) => ({
  role,
  before: { levelLufs: was },
  after: is === null ? null : { levelLufs: is },
  foreseen: null,
})
const loud: FontToPicture = {
  font: 'Loud Anvil',
  humBeforeLufs: -12,
  humAfterLufs: -20,
  sounds: [sound('hum', -12, -20), sound('clash', -8, -16), sound('music', -5, -5)],
}
const soft: FontToPicture = {
  font: 'A name that is longer than there is room for it',
  humBeforeLufs: -31,
  humAfterLufs: -20,
  sounds: [{ ...sound('clash', -27, null), foreseen: { levelLufs: -16 } }, sound('clash', null, null)],
}
const band = { lowestLufs: -21, highestLufs: -19 }

function shapesOf<K extends PictureShape['kind']>(shapes: readonly PictureShape[], kind: K) {
  return shapes.filter((shape): shape is Extract<PictureShape, { kind: K }> => shape.kind === kind)
}

test('hums of all fonts stand on one scale, before as a ring, after as a disc inside the band', () => {
  const { shapes, width, height } = evennessPicture([loud, soft], band)
  const [area] = shapesOf(shapes, 'area')
  const rings = shapesOf(shapes, 'ring')
  const discs = shapesOf(shapes, 'disc')
  expect(rings.map(({ x }) => x > area!.x + area!.width)).toEqual([true, false])
  expect(discs[0]!.x).toBe(discs[1]!.x)
  for (const { x, y } of discs) {
    expect(x).toBeGreaterThan(area!.x)
    expect(x).toBeLessThan(area!.x + area!.width)
    expect(y).toBeLessThan(height)
  }
  for (const { x } of [...rings, ...discs]) expect(x).toBeLessThanOrEqual(width)
})

test('effects are strokes above before and below after, foreseen where nothing was made; music is none', () => {
  const { shapes } = evennessPicture([loud, soft], band)
  const strokes = shapesOf(shapes, 'line')
  const before = strokes.filter(({ tone }) => tone === 'before')
  const after = strokes.filter(({ tone }) => tone === 'after')
  expect(before).toHaveLength(2)
  expect(after).toHaveLength(2)
  expect(after[0]!.x1).toBe(after[1]!.x1)
  for (const [index, ring] of shapesOf(shapes, 'ring').entries()) {
    expect(before[index]!.y2).toBeLessThan(ring.y)
    expect(after[index]!.y1).toBeGreaterThan(ring.y)
  }
})

test('a font without a hum and a board without a band leave their marks out', () => {
  const { shapes } = evennessPicture([{ ...loud, humBeforeLufs: null, humAfterLufs: null }], null)
  expect(shapes.filter(({ kind }) => kind === 'ring' || kind === 'disc' || kind === 'area')).toEqual([])
  expect(shapesOf(shapes, 'text').map(({ text }) => text)).toContain('Loud Anvil')
})

test('a long name is cut at a whole letter', () => {
  const { shapes } = evennessPicture([{ ...soft, font: '🔔'.repeat(40) }], band)
  const [name] = shapesOf(shapes, 'text').filter(({ text }) => text.startsWith('🔔'))
  expect(name!.text).toBe(`${'🔔'.repeat(23)}…`)
})
