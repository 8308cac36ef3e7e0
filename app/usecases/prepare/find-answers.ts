import type { FontDraft } from '../../audio/prepare/draft-font.ts'
import type { ErrorReport } from '../../errors/app-error.ts'
import { toolsFor, type PreparingTools, type SoundAnswer, type SoundGroup } from '../../model/preparation.ts'
import type { RunControl } from '../../ports/progress.ts'
import type { GroupToAnswer } from '../../ports/sound-preparer.ts'
import type { FontInHand } from './fonts-to-prepare.ts'
import { refuseFullDisk } from './full-disk.ts'
import type { PreparePorts } from './prepare-ports.ts'
import { originalFiles, type OriginalFiles } from './original-files.ts'

/** Answers of one font, in the order of its groups, and sounds that could not be looked into. */
export interface FontAnswers {
  readonly answers: readonly (readonly SoundAnswer[])[]
  readonly problems: ReadonlyMap<string, ErrorReport>
}

interface Asked {
  readonly font: number
  readonly place: number
  readonly group: SoundGroup
  readonly key: string
}

/**
 * Finds out what recipes need to know: from the workshop where it was found out before, else in the
 * samples. Answers are kept at once, so that a run that is broken off need not ask again.
 * @throws AppError of the store; Cancelled
 */
export async function findAnswers(
  fonts: readonly FontInHand[],
  drafts: readonly FontDraft[],
  tools: PreparingTools,
  ports: PreparePorts,
  control: RunControl,
): Promise<readonly FontAnswers[]> {
  const asked = drafts.flatMap(({ groups }, font) =>
    groups.map(({ group }, place): Asked => ({ font, place, group, key: keyOf(group, tools, ports) })),
  )
  const known = await ports.database.preparation.findAnswers(asked.map(({ key }) => key))
  const answers = drafts.map(() => [] as (readonly SoundAnswer[])[])
  const problems = drafts.map(() => new Map<string, ErrorReport>())
  const open: Asked[] = []
  asked.forEach((each, index) => {
    const found = known[index] ?? null
    if (found === null) open.push(each)
    else putAnswer(answers, each, found)
  })
  const files = await filesFor(open, fonts, ports, control)
  const jobs: GroupToAnswer[] = []
  const asking: Asked[] = []
  for (const each of open) {
    const { byHash, problem } = files.get(each.font) ?? { byHash: new Map(), problem: null }
    const originals = each.group.sounds.flatMap(({ sha256 }) => byHash.get(sha256) ?? [])
    if (originals.length === each.group.sounds.length) {
      jobs.push({ group: each.group, originals })
      asking.push(each)
    } else if (problem !== null) putProblem(problems, each, problem)
  }
  let done = 0
  const fresh: { key: string; answers: readonly SoundAnswer[] }[] = []
  const onDone = (index: number, came: Parameters<Parameters<typeof ports.preparer.answer>[1]>[1]) => {
    const each = asking[index]
    if (each === undefined) return
    if ('made' in came) {
      putAnswer(answers, each, came.made)
      fresh.push({ key: each.key, answers: came.made })
    } else {
      refuseFullDisk(came.problem)
      putProblem(problems, each, came.problem)
    }
    control.onProgress({
      phase: 'listening',
      done: ++done,
      total: asking.length,
      unit: 'files',
      current: null,
    })
  }
  try {
    await ports.preparer.answer(jobs, onDone, control.cancel)
  } finally {
    if (fresh.length > 0) {
      await ports.database.inTransaction(({ preparation }) => preparation.keepAnswers(fresh))
    }
  }
  return answers.map((each, font) => ({ answers: each, problems: problems[font] ?? new Map() }))
}

function putAnswer(
  answers: (readonly SoundAnswer[])[][],
  { font, place }: Asked,
  found: readonly SoundAnswer[],
): void {
  const ofFont = answers[font]
  if (ofFont !== undefined) ofFont[place] = found
}

function putProblem(
  problems: Map<string, ErrorReport>[],
  { font, group }: Asked,
  problem: ErrorReport,
): void {
  for (const { sha256 } of group.sounds) problems[font]?.set(sha256, problem)
}

/** The same question about the same bytes with the same programs has the same answer. */
function keyOf(group: SoundGroup, tools: PreparingTools, { newHasher }: PreparePorts): string {
  const asks = group.sounds.map(({ recipe, ...rest }) => ({
    ...rest,
    steps: recipe.steps.map(({ action }) => action),
    tools: toolsFor(recipe, tools),
  }))
  const hasher = newHasher()
  const text = JSON.stringify({ asks, wantsSeam: group.wantsSeam })
  hasher.update(Uint8Array.from(text, (character) => character.charCodeAt(0)))
  return hasher.digestHex()
}

async function filesFor(
  open: readonly Asked[],
  fonts: readonly FontInHand[],
  ports: PreparePorts,
  control: RunControl,
): Promise<ReadonlyMap<number, OriginalFiles>> {
  const files = new Map<number, OriginalFiles>()
  for (const [index, font] of fonts.entries()) {
    const wanted = open.flatMap((each) =>
      each.font === index ? each.group.sounds.map(({ sha256 }) => sha256) : [],
    )
    if (wanted.length > 0)
      files.set(index, await originalFiles(font.edition, new Set(wanted), ports, control))
  }
  return files
}
