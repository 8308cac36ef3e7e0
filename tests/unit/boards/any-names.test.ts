import fc from 'fast-check'
import { expect, test } from 'vitest'
import { inferRoles } from '../../../app/boards/inference/infer-roles.ts'
import { readRoles } from '../../../app/boards/read-roles.ts'
import { translationOf } from '../../../app/usecases/translate-names.ts'
import { fontLike, judged } from '../../support/judged-font.ts'
import { shippedBoard } from '../../support/shipped-boards.ts'
import { shippedScheme, shippedSchemes } from '../../support/shipped-schemes.ts'

const word = fc.oneof(
  fc.constantFrom(
    'hum',
    'clash',
    'swing',
    'low',
    'end',
    '01',
    '7',
    '__proto__',
    'constructor',
    'con',
    '..',
    '…',
    '\u202e',
    'é',
    'e\u0301',
  ),
  fc.string({ unit: 'binary', maxLength: 6 }),
)
const path = fc
  .array(word, { minLength: 1, maxLength: 5 })
  .chain((words) => fc.constantFrom('', '-', ' ', '/', '.').map((joint) => `${words.join(joint)}.wav`))

test('whatever files are called, they are read, guessed, judged and translated without a fault', () => {
  fc.assert(
    fc.property(fc.uniqueArray(path, { maxLength: 12 }), (paths) => {
      const { places } = readRoles(paths, shippedSchemes)
      const sounds = paths.map((each, index) => [each, { place: places[index] ?? null }] as const)
      // A path can be `__proto__`: entries, not a literal, keep it a plain key.
      const edition = fontLike({ name: paths[0] ?? 'Ember' }, Object.fromEntries(sounds))
      for (const id of ['bench-44', 'bench-32', 'bench-48']) {
        const board = shippedBoard(id)
        const { findings } = judged(edition, board)
        for (const finding of findings) expect(finding.message.length).toBeLessThan(1000)
        expect(
          judged(edition, board, { inPlace: true, folder: paths[0] ?? 'x' }).verdict.errorCount,
        ).toBeGreaterThanOrEqual(0)
        const { names } = translationOf(edition, board, shippedScheme(board.names.scheme))
        expect(names.map((name) => name.from).toSorted()).toEqual(
          edition.sounds.map((sound) => sound.path).toSorted(),
        )
        for (const { to } of names) if (to !== null) expect(to).not.toMatch(/(^|\/)\.{1,2}(\/|$)|^\//)
      }
      for (const guess of inferRoles(edition.sounds)) {
        expect(guess.confidence).toBeGreaterThanOrEqual(0)
        expect(guess.confidence).toBeLessThanOrEqual(1)
      }
    }),
    { numRuns: 150 },
  )
})
