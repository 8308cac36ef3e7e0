import { expect, test } from 'vitest'
import { prepareText } from '../../../main/cli/prepare-command.ts'
import { dryRunReport, failedSound, preparedReport } from '../../support/prepared-report.ts'

test('what was prepared is told font by font, then the words it followed, evenness, counts and cautions', () => {
  expect(prepareText(preparedReport)).toMatchInlineSnapshot(`
    "Ember & Ash v2: ready: 1 warning, -7.5 dB for the whole font
    sound          what was wrong  what was done     before → after
    clash <1>.wav  sample-rate     48000 → 44100 Hz  48000 → 44100 Hz, -23.0 → -20.0 LUFS
      Role not known: thud.wav. Without a role a sound is not prepared, and gets no name on a card. \`roles FONT\` shows guesses and takes yours.
      Still so: boot.wav: Its level is -6 LUFS.

    Other: ready: 1 warning
    sound          what was wrong  what was done     before → after
    clash <1>.wav  sample-rate     48000 → 44100 Hz  48000 → 44100 Hz, -23.0 → -20.0 LUFS
      Role not known: thud.wav. Without a role a sound is not prepared, and gets no name on a card. \`roles FONT\` shows guesses and takes yours.
      Still so: boot.wav: Its level is -6 LUFS.

    Your words on steps (--forget takes one back):
      Ember & Ash v2, clash: gain set to -3 dB

    Hums of these fonts differed by 21.6 LU and now differ by 0.0 LU (the board allows 1 LU), as heard through a speaker from 250 Hz up.
    Sounds for bench-44: 12 made, 1 left as it is.
    Caution: Play them quietly the first time."
  `)
})

test('a dry run says what would be done', () => {
  expect(prepareText(dryRunReport)).toMatchInlineSnapshot(`
    "Ember & Ash v2, as it came: fixable: 1 error, -7.5 dB for the whole font
    sound          what is wrong  what would be done  before → after
    clash <1>.wav  sample-rate    48000 → 44100 Hz    48000 → 44100 Hz, -23.0 → -20.0 LUFS

    Your words on steps (--forget takes one back):
      Ember & Ash v2, clash: gain set to -3 dB

    Hums of these fonts differed by 21.6 LU and would then differ by 0.0 LU (the board allows 1 LU), as heard through a speaker from 250 Hz up.
    Sounds for bench-44: 1 would be made.
    Caution: Play them quietly the first time."
  `)
})

test('of a sound that could not be made, no step is told as done', () => {
  const [font] = preparedReport.fonts
  const text = prepareText({ ...preparedReport, fonts: [{ ...font!, sounds: [failedSound] }] })
  expect(text).toMatch(/^clash <1>\.wav +sample-rate +Not made: ffmpeg could not be run\. Install ffmpeg\.$/m)
})

test('a dry run tells what would stay so: of sounds that it leaves, and of a font what no step mends', () => {
  const [font] = dryRunReport.fonts
  const [finding] = font!.stillWrong
  const left = { ...font!.sounds[0]!, path: 'left.wav', state: 'unchanged', steps: [] } as const
  const stillWrong = [
    { ...finding!, path: 'left.wav', message: 'Of a sound that is left.' },
    { ...finding!, path: font!.sounds[0]!.path, message: 'Of a sound that would be made.' },
    { ...finding!, path: null, message: 'Of the font, to be mended.', fixable: true },
    { ...finding!, path: null, message: 'Of the font, for good.', fixable: false },
  ]
  const fonts = [{ ...font!, sounds: [...font!.sounds, left], stillWrong }]
  const text = prepareText({ ...dryRunReport, fonts })
  expect(text.match(/^ {2}Would stay so: .*$/gm)).toEqual([
    '  Would stay so: left.wav: Of a sound that is left.',
    '  Would stay so: Of the font, for good.',
  ])
  expect(text).not.toContain('Still so')
})
