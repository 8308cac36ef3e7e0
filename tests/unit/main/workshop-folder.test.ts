import { expect, test } from 'vitest'
import { workshopFolder, type Surroundings } from '../../../main/workshop-folder.ts'

const linux = (env: Record<string, string> = {}): Surroundings => ({
  platform: 'linux',
  env,
  homeFolder: '/home/kim',
  currentFolder: '/bench',
})

test.each([
  { name: 'as named, from where the user stands', named: 'mine', around: linux(), want: '/bench/mine' },
  {
    name: 'as named rather than as the environment says',
    named: '/w',
    around: linux({ CARDWRIGHT_WORKSHOP: '/other' }),
    want: '/w',
  },
  {
    name: 'as the environment says',
    named: undefined,
    around: linux({ CARDWRIGHT_WORKSHOP: 'env-one' }),
    want: '/bench/env-one',
  },
  {
    name: 'in the data folder of Linux',
    named: undefined,
    around: linux({ XDG_DATA_HOME: '/data' }),
    want: '/data/cardwright',
  },
  {
    name: 'in the usual data folder where the one told is relative',
    named: undefined,
    around: linux({ XDG_DATA_HOME: 'data' }),
    want: '/home/kim/.local/share/cardwright',
  },
  {
    name: 'in the application folder of macOS',
    named: undefined,
    around: { ...linux(), platform: 'darwin' as const, homeFolder: '/Users/kim' },
    want: '/Users/kim/Library/Application Support/Cardwright',
  },
])('the workshop lies $name', ({ named, around, want }) => {
  expect(workshopFolder(named, around)).toBe(want)
})
