import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { v7 } from 'uuid'
import { FONT_RULES } from '../../app/boards/rules/all-rules.ts'
import { judgeEdition } from '../../app/boards/judge.ts'
import type { Edition } from '../../app/model/library.ts'
import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'
import { contextLike, fontLike, type SoundChange } from '../support/judged-font.ts'
import { shippedBoard } from '../support/shipped-boards.ts'
import { pairedMedians, type Bench } from './bench-kit.ts'

const SOUNDS_A_FONT = 20

/** Rules over a library of 10,000 sounds, a few of them faulty, against reading the same rows from the database. */
export const rulesAgainstRows: Bench = {
  id: 'R1',
  title: 'every rule over 10,000 sounds, against reading their rows',
  async run({ scale, rounds, dataFolder }) {
    const folder = mkdtempSync(join(dataFolder, 'rules-'))
    const database = await openWorkshopDatabase(folder, {
      who: 'bench',
      clock: { now: () => '2026-11-25T09:00:00Z' },
      newId: v7,
    })
    try {
      const made = library(Math.round((10_000 * scale) / SOUNDS_A_FONT))
      await database.inTransaction(async ({ library: writer }) => {
        const root = await writer.addRoot({ path: '/bench', kind: 'folder', addedAt: '2026-11-25T09:00:00Z' })
        await writer.applyScan({
          rootId: root.id,
          at: '2026-11-25T09:00:00Z',
          newInspections: made.flatMap((edition) => edition.sounds.map((sound) => sound.inspection)),
          newPeaks: [],
          files: [],
          editions: made.map((edition) => ({
            place: { path: `/bench/${edition.font.name}`, innerPath: null },
            fontName: edition.font.name,
            version: '1',
            proposedCreatorName: null,
            schemeId: 'plain-words',
            sounds: edition.sounds.map(({ path, place, roleSource, inspection }) => ({
              path,
              place,
              roleSource,
              sha256: inspection.sha256,
            })),
            companions: [],
            litter: [],
            editionId: null,
          })),
          problems: [],
          treeDigest: 'bench',
        })
      })
      const ids = (await database.library.listEditions()).map((edition) => edition.id)
      const editions = await database.library.getEditions(ids)
      const board = shippedBoard('bench-44')
      const context = contextLike(board, { licences: [], speakerLowLimitHz: 300 })
      let findings = 0
      const times = await pairedMedians(
        rounds,
        () => {
          findings = 0
          for (const edition of editions) findings += judgeEdition(edition, board, context).findings.length
        },
        () => database.library.getEditions(ids),
      )
      const sounds = editions.reduce((sum, edition) => sum + edition.sounds.length, 0)
      const perSecond = Math.round((sounds * FONT_RULES.length) / times.ourSeconds / 1000)
      return {
        peer: 'getEditions of every edition, in the database worker',
        ...times,
        kind: 'at most',
        hold: 1,
        remark: `${sounds} sounds, ${FONT_RULES.length} rules, ${findings} findings; ${perSecond},000 rules a second`,
      }
    } finally {
      await database.close()
      rmSync(folder, { recursive: true, force: true })
    }
  },
}

/** Fonts of twenty sounds; one sound in ten has something wrong with it. */
function library(fontCount: number): readonly Edition[] {
  const names = ['hum.wav', 'ignite-01.wav', 'retract-01.wav', 'boot.wav', 'announce.wav', 'music.wav']
  const more = ['clash', 'deflect', 'swing-low', 'swing-high'].flatMap((role) =>
    [1, 2, 3, 4].map((number) => `${role}-0${number}.wav`),
  )
  const faults: readonly SoundChange[] = [
    { facts: { sampleRateHz: 48_000 } },
    { facts: { channels: 2 } },
    { measures: { clippedRuns: 3 } },
    { levels: { momentaryMaxLufs: -35 } },
  ]
  return Array.from({ length: fontCount }, (_, index) => {
    const paths = [...names, ...more].slice(0, SOUNDS_A_FONT)
    const sounds = paths.map((path, at): [string, SoundChange] => [
      path,
      {
        ...((index + at) % 10 === 0 ? faults[(index + at) % faults.length] : {}),
        sampleHash: `${index}/${path}`,
      },
    ])
    const edition = fontLike({ name: `Font ${index}` }, Object.fromEntries(sounds))
    return {
      ...edition,
      sounds: edition.sounds.map((sound) => ({
        ...sound,
        inspection: { ...sound.inspection, sha256: `${index}/${sound.path}` },
      })),
    }
  })
}
