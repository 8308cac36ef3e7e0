import { expect, test } from 'vitest'
import { levelOf, levelOfFile } from '../../../app/audio/level-of.ts'
import type { SoundPlace } from '../../../app/model/role.ts'

const place = (role: SoundPlace['role'], rest: Partial<SoundPlace> = {}): SoundPlace => ({
  role,
  part: 'body',
  layer: null,
  number: null,
  ...rest,
})
const levels = { integratedLufs: -20, momentaryMaxLufs: -15 }

test.each([
  { name: 'a hum is a loop: its integrated loudness', place: place('hum'), want: -20 },
  { name: 'music sounds on: its integrated loudness', place: place('music'), want: -20 },
  { name: 'a layered swing is a loop', place: place('swing', { layer: 'low' }), want: -20 },
  { name: 'the body of a lockup is a loop', place: place('lockup'), want: -20 },
  { name: 'its begin is not', place: place('lockup', { part: 'begin' }), want: -15 },
  { name: 'a plain swing is a burst: its momentary maximum', place: place('swing'), want: -15 },
  { name: 'a clash is a burst', place: place('clash'), want: -15 },
])('$name', ({ place: at, want }) => expect(levelOf(at, levels)).toBe(want))

test('a loop too short for an integrated loudness is taken by its momentary one', () => {
  expect(levelOf(place('hum'), { integratedLufs: null, momentaryMaxLufs: -18 })).toBe(-18)
})

test('a file of unknown role counts as a loop where it carries loop points', () => {
  expect(levelOfFile([{ start: 0, end: 9 }], levels)).toBe(-20)
  expect(levelOfFile([], levels)).toBe(-15)
})
