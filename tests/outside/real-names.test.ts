import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect } from 'vitest'
import { inferRoles } from '../../app/boards/inference/infer-roles.ts'
import { judgeEdition } from '../../app/boards/judge.ts'
import { ROLE_WORDS } from '../../app/boards/role-words.ts'
import type { Sound } from '../../app/model/sound.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { contextLike, fontLike } from '../support/judged-font.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { shippedBoard } from '../support/shipped-boards.ts'

/**
 * Names and sounds that nobody here made: the voice prompts of Debian's `asterisk-core-sounds-en-wav`
 * and the test sounds of `alsa-utils`. They belong to no font, so that guessing at their roles with
 * confidence would be wrong; what their files are is known from their headers.
 */
const PROMPTS = '/usr/share/asterisk/sounds/en_US_f_Allison'
const ALSA = '/usr/share/sounds/alsa'
const realTest = testAgainst(PROMPTS, ALSA)

const wavFiles = (root: string): string[] =>
  readdirSync(root, { recursive: true })
    .map(String)
    .filter((path) => path.endsWith('.wav'))
    .toSorted()

async function inspected(root: string, paths: readonly string[]): Promise<Sound[]> {
  const inspector = openWorkerInspector()
  const sounds: Sound[] = []
  await inspector.inspectFiles(
    paths.map((path) => ({ path: join(root, path), sizeBytes: 0 })),
    (index, { inspection }) => {
      const path = paths[index] ?? ''
      sounds[index] = { id: path, editionId: 'real', path, place: null, roleSource: null, inspection }
    },
    new AbortController().signal,
  )
  await inspector.close()
  return sounds
}

describe('real sounds that are no font', () => {
  realTest('hardly ever get a role with confidence, and then for a word of the trade', async () => {
    for (const root of [PROMPTS, ALSA]) {
      const sounds = await inspected(root, wavFiles(root))
      const sure = inferRoles(sounds).filter((guess) => guess.isConfident)
      console.log(
        `${root}: ${sure.length} of ${sounds.length} sure\n${sure.map(({ path, reasons }) => `  ${path}: ${reasons.join('; ')}`).join('\n')}`,
      )
      expect(sure.length / sounds.length).toBeLessThanOrEqual(0.02)
      for (const { path } of sure) {
        const words = path.toLowerCase().split(/[^a-z]+/)
        expect(
          words.some(
            (word) => word.length >= 3 && [...ROLE_WORDS.keys()].some((known) => known.startsWith(word)),
          ),
          path,
        ).toBe(true)
      }
    }
  })

  realTest('are judged by what their headers say: rate, channels and depth', async () => {
    for (const [root, rateHz] of [
      [PROMPTS, 8000],
      [ALSA, 48_000],
    ] as const) {
      const paths = wavFiles(root)
      for (const path of paths) expect(readFileSync(join(root, path)).readUInt32LE(24), path).toBe(rateHz)
      const sounds = await inspected(root, paths)
      const edition = { ...fontLike({}, {}), sounds, soundCount: sounds.length }
      const rulesFor = (id: string) => {
        const board = shippedBoard(id)
        const { findings, verdict } = judgeEdition(edition, board, contextLike(board))
        expect(verdict.word).toBe('unrecognised')
        return new Map(
          ['sample-rate', 'channels', 'bit-depth', 'coding', 'too-long'].map((rule) => [
            rule,
            findings.filter((each) => each.rule === rule).length,
          ]),
        )
      }
      expect([...rulesFor('bench-44').values()]).toEqual([paths.length, 0, 0, 0, 0])
      expect(rulesFor('bench-48').get('sample-rate')).toBe(rateHz === 48_000 ? 0 : paths.length)
    }
  })
})
