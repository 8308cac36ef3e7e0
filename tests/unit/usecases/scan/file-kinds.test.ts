import { describe, expect, test } from 'vitest'
import { companionKind, isLitterFolder, kindOfFile } from '../../../../app/usecases/scan/file-kinds.ts'

test.each([
  ['hum.wav', 'sound'],
  ['HUM.WAV', 'sound'],
  ['tune.mp3', 'sound'],
  ['.wav', 'sound'],
  ['hum.wav.', 'companion'],
  ['hum.wav ', 'companion'],
  ['hum. wav', 'companion'],
  ['none', 'companion'],
  ['settings.ini', 'companion'],
  ['aux', 'companion'],
  ['font.ZIP', 'zip'],
  ['font.7z', 'other-archive'],
  ['font.tar.gz', 'other-archive'],
  ['.DS_Store', 'litter'],
  ['._hum.wav', 'litter'],
  ['Thumbs.db', 'litter'],
  ['desktop.ini', 'litter'],
])('%j is a %s by its name', (name, kind) => expect(kindOfFile(name)).toBe(kind))

describe('companions', () => {
  test.each([
    ['readme.TXT', 'text'],
    ['config.ini', 'text'],
    ['cover.jpg', 'picture'],
    ['manual.pdf', 'document'],
    ['none', 'other'],
    ['model.stl', 'other'],
  ])('%s is a %s', (name, kind) => expect(companionKind(name)).toBe(kind))
})

test.each([
  ['__MACOSX', true],
  ['System Volume Information', true],
  ['.Trash-1000', true],
  ['.hidden', false],
  ['__proto__', false],
])('a folder named %s is litter: %s', (name, isLitter) => expect(isLitterFolder(name)).toBe(isLitter))
