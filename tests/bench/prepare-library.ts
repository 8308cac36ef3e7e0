import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { chooseRecipes } from '../../app/audio/prepare/choose-recipes.ts'
import { draftFont } from '../../app/audio/prepare/draft-font.ts'
import type { SoundToPrepare } from '../../app/audio/prepare/sound-to-prepare.ts'
import { judgeEdition } from '../../app/boards/judge.ts'
import type { Edition } from '../../app/model/library.ts'
import type { SoundPlace } from '../../app/model/role.ts'
import type { SoundAnswer } from '../../app/model/preparation.ts'
import type { Sound, SoundInspection } from '../../app/model/sound.ts'
import { levelOfSound } from '../../app/usecases/judging.ts'
import { contentStore } from '../../main/adapters/files/content-store.ts'
import { openWorkerPreparer } from '../../main/workers/worker-preparer.ts'
import { shippedBoard } from '../support/shipped-boards.ts'
import { shippedScheme } from '../support/shipped-schemes.ts'

// What `prepare` does with sounds that were scanned: judge, choose recipes, make, read back, store.
// usage: prepare-library.ts LIST WORKFOLDER; LIST holds `path` and `inspection` a sound, as JSON.

interface Listed {
  readonly path: string
  readonly inspection: SoundInspection
}

const nobodyCancels = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} }
const [list = '', workFolder = ''] = process.argv.slice(2)
const listed = JSON.parse(readFileSync(list, 'utf8')) as Listed[]
const board = shippedBoard('bench-32')

function placeOf(path: string, index: number): SoundPlace {
  const role = path.includes('track-') ? 'music' : index % 40 === 0 ? 'hum' : 'swing'
  return { role, part: 'body', layer: null, number: index }
}

rmSync(workFolder, { recursive: true, force: true })
mkdirSync(workFolder, { recursive: true })
const store = contentStore(join(workFolder, 'store'))
const preparer = openWorkerPreparer({ scratchFolder: join(workFolder, 'scratch') })
preparer.getReady()
const sounds = listed.map(({ path, inspection }, index): Sound => {
  return { id: path, editionId: 'e', path, place: placeOf(path, index), roleSource: 'scheme', inspection }
})
const font = { id: 'f', name: 'Library', creatorId: null, creatorName: null, proposedCreatorName: null }
const edition: Edition = {
  ...{ id: 'e', font, version: '', state: 'present', places: [], schemeId: null, soundCount: sounds.length },
  ...{ companionCount: 0, sizeBytes: 0, firstSeenAt: '', sounds, companions: [], litter: [] },
}
const { findings } = judgeEdition(edition, board, {
  scheme: shippedScheme(board.names.scheme),
  levelOf: levelOfSound,
  speakerLowLimitHz: null,
  licences: null,
  inPlace: false,
})
const toPrepare = sounds.flatMap(
  ({ path, place, inspection: { facts, measures, sha256 } }): SoundToPrepare[] => {
    if (place === null || facts === null) return []
    const own = findings.filter((finding) => finding.path === path)
    return [{ path, sha256, place, facts, measures, findings: own, choices: new Map(), isPrepared: false }]
  },
)
const files = new Map(
  listed.map(({ path, inspection: { sha256, sizeBytes } }) => [sha256, { path, sizeBytes, sha256 }]),
)
const fileOf = (sha256: string) => files.get(sha256) ?? { path: '', sizeBytes: 0, sha256 }

const draft = draftFont(
  { editionId: 'e', name: 'Library', sounds: toPrepare, speakerLowLimitHz: null },
  board,
)
const answers: (readonly SoundAnswer[])[] = []
await preparer.answer(
  draft.groups.map(({ group }) => ({ group, originals: group.sounds.map(({ sha256 }) => fileOf(sha256)) })),
  (index, came) => {
    if ('problem' in came) throw new Error(came.problem.what)
    answers[index] = came.made
  },
  nobodyCancels,
)
const [chosen] = chooseRecipes([{ draft, answers }], board)
const jobs = (chosen?.recipes ?? []).map(({ sound, recipe }) => ({ original: fileOf(sound.sha256), recipe }))
let made = 0
await preparer.make(
  jobs,
  async (_, came) => {
    if ('problem' in came) throw new Error(came.problem.what)
    await store.takeFile(came.made.path, came.made.inspection.sha256)
    made++
  },
  nobodyCancels,
)
process.stdout.write(`${made} prepared, ${process.resourceUsage().maxRSS} KiB\n`)
