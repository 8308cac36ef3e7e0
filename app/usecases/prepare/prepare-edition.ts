import { chooseRecipes, humLevelOf, type ChosenFont } from '../../audio/prepare/choose-recipes.ts'
import { draftFont, type FontDraft } from '../../audio/prepare/draft-font.ts'
import { spreadToHold } from '../../audio/prepare/font-gains.ts'
import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import type { Edition } from '../../model/library.ts'
import type { PreparingTools } from '../../model/preparation.ts'
import type { RecipeChoice } from '../../model/recipe.ts'
import type { SoundInspection } from '../../model/sound.ts'
import type { RunControl } from '../../ports/progress.ts'
import { cardOrderOf, type CardOrder } from '../card-order.ts'
import { speakerLimitOf } from '../speaker-limit.ts'
import { cautionsFor } from './cautions.ts'
import { findAnswers, type FontAnswers } from './find-answers.ts'
import { foreseenFailures } from './foreseen-failures.ts'
import { fontsToPrepare, judgeForPreparing, type FontInHand, type SpeakerInUse } from './fonts-to-prepare.ts'
import { keptSounds, makeSounds, type SoundCame, type SoundInHand } from './make-sounds.ts'
import { preparedCopy } from './prepared-copy.ts'
import type { PreparePorts } from './prepare-ports.ts'
import { countsOf, fontRow, spreadOf, type PreparedFont } from './preparing-report.ts'
import { preparingPage } from './preparing-page.ts'
import { choiceRow, choicesOf } from './recipe-choices.ts'
import { writeInto } from './write-into.ts'

type Request = RequestOf<'prepare'>
type Report = ResponseOf<'prepare'>

/**
 * Prepares fonts for a board: chooses a recipe for each sound, makes what is not there yet, measures
 * and judges it again, and records how each sound stands for the board. Fonts that are named together
 * are brought to one loudness. Originals are never changed. What is broken off goes on where it was.
 *
 * @param request `into` and `reportPath` are absolute
 * @throws AppError of `cardOrderOf`, `prepare/unknown-sound`, `prepare/choice-out-of-range`,
 *   of the store, of `PreparedFolders`; Cancelled
 */
export async function prepareEditions(
  request: Request,
  ports: PreparePorts,
  control: RunControl,
): Promise<Report> {
  const order = await cardOrderOf(request, ports)
  if (request.dryRun === true) return prepareLocked(order, request, ports, control)
  const lock = await ports.locks.acquireInTurn('prepare', 'preparing sounds', control)
  try {
    return await prepareLocked(order, request, ports, control)
  } finally {
    await lock.release()
  }
}

async function prepareLocked(
  order: CardOrder,
  request: Request,
  ports: PreparePorts,
  control: RunControl,
): Promise<Report> {
  const isDryRun = request.dryRun === true
  ports.preparer.getReady()
  const speaker = await speakerOf(request, order, ports, control)
  const choices = await choicesOf(request, order, ports)
  const tools = await ports.preparer.tools(control.cancel)
  const started = await look(order, speaker, choices, tools, ports, control)
  const chosen = chooseRecipes(
    started.drafts.map((draft, index) => ({ draft, answers: started.answers[index]?.answers ?? [] })),
    order.board,
  )
  const wanted = wantedSounds(started, chosen)
  const kept = await keptSounds(wanted, tools, ports)
  const missing = wanted.filter((sound) => !kept.has(sound))
  const made = isDryRun ? foreseenFailures(missing, tools) : await makeSounds(missing, tools, ports, control)
  const came = started.fonts.map((font) => cameOf(font, wanted, kept, made))
  const after = started.fonts.map(({ edition }, index) => preparedCopy(edition, inspectionsOf(came[index])))
  const afterwards = await heardThrough(speaker.lowLimitHz, after, ports, control)
  if (!isDryRun) await record(order, started, chosen, came, ports)
  const hums = isDryRun
    ? chosen.map(({ humForeseenLufs }) => humForeseenLufs)
    : await humsAfter({ ...order, editions: after }, afterwards, tools, ports, control)
  const toWrite = after.map((edition, index) => {
    return { edition, failed: firstFailed(edition, came[index], started.answers[index]) }
  })
  const written = await writeInto(request, order, toWrite, ports, control)
  const fonts = started.fonts.map((inHand, index): PreparedFont => {
    const edition = after[index] ?? inHand.edition
    const { folder = null, told = [] } = written[index] ?? {}
    const how = chosen[index] ?? NOTHING_CHOSEN
    return {
      inHand,
      chosen: { ...how, told: [...how.told, ...told] },
      came: came[index] ?? new Map(),
      problems: started.answers[index]?.problems ?? new Map(),
      after: edition,
      judgedAfter: judgeForPreparing(edition, order, afterwards),
      humAfterLufs: hums[index] ?? null,
      folder,
    }
  })
  const rows = fonts.map(fontRow)
  const report: Report = {
    board: order.board.id,
    boardTitle: order.board.title,
    speakerLowLimitHz: speaker.lowLimitHz,
    dryRun: isDryRun,
    tools: tools.withFfmpeg,
    fallBack: tools.fallBack,
    cautions: [...(await cautionsFor(order, rows, ports))],
    spreadBeforeLu: spreadOf(rows.map(({ humBeforeLufs }) => humBeforeLufs)),
    spreadAfterLu: spreadOf(rows.map(({ humAfterLufs }) => humAfterLufs)),
    allowedSpreadLu: spreadToHold(order.board),
    humBand: order.board.levels.hum,
    fonts: rows,
    choices: choices.map(choiceRow),
    counts: countsOf(rows),
  }
  if (request.reportPath !== undefined) {
    await ports.folders.writePage(request.reportPath, preparingPage(report))
  }
  return report
}

const NOTHING_CHOSEN: ChosenFont = {
  editionId: '',
  recipes: [],
  gain: null,
  humLufs: null,
  humForeseenLufs: null,
  told: [],
}

interface Started {
  readonly fonts: readonly FontInHand[]
  readonly drafts: readonly FontDraft[]
  readonly answers: readonly FontAnswers[]
}

async function look(
  order: CardOrder,
  speaker: SpeakerInUse,
  choices: readonly RecipeChoice[],
  tools: PreparingTools,
  ports: PreparePorts,
  control: RunControl,
): Promise<Started> {
  const hashes = order.editions.flatMap(({ sounds }) => sounds.map(({ inspection }) => inspection.sha256))
  const outputs = new Set(await ports.database.preparation.findOutputs(hashes, order.board.hash))
  const fonts = fontsToPrepare(order, speaker, outputs, choices)
  const drafts = fonts.map(({ font }) => draftFont(font, order.board))
  return { fonts, drafts, answers: await findAnswers(fonts, drafts, tools, ports, control) }
}

/** Sounds with something to do, but for those that could not be looked into. */
function wantedSounds({ fonts, answers }: Started, chosen: readonly ChosenFont[]): readonly SoundInHand[] {
  return fonts.flatMap((font, index) =>
    (chosen[index]?.recipes ?? [])
      .filter(({ recipe, sound }) => recipe.steps.length > 0 && !answers[index]?.problems.has(sound.sha256))
      .map(({ sound, recipe }) => ({ font, path: sound.path, sha256: sound.sha256, recipe })),
  )
}

function cameOf(
  font: FontInHand,
  wanted: readonly SoundInHand[],
  ...known: readonly ReadonlyMap<SoundInHand, SoundCame>[]
): ReadonlyMap<string, SoundCame> {
  const found = new Map<string, SoundCame>()
  for (const sound of wanted) {
    if (sound.font !== font) continue
    const came = known.map((each) => each.get(sound)).find((each) => each !== undefined)
    if (came !== undefined) found.set(sound.path, came)
  }
  return found
}

function inspectionsOf(
  came: ReadonlyMap<string, SoundCame> | undefined,
): ReadonlyMap<string, SoundInspection> {
  const found = new Map<string, SoundInspection>()
  for (const [path, each] of came ?? []) if (each.state !== 'failed') found.set(path, each.inspection)
  return found
}

/** The first sound of a font that has no prepared bytes and should have. */
function firstFailed(
  { sounds }: Edition,
  came: ReadonlyMap<string, SoundCame> | undefined,
  answers: FontAnswers | undefined,
): string | null {
  const failed = sounds.find(({ path, inspection: { sha256 } }) => {
    return came?.get(path)?.state === 'failed' || answers?.problems.has(sha256) === true
  })
  return failed?.path ?? null
}

async function record(
  { board, boardText }: CardOrder,
  { fonts }: Started,
  chosen: readonly ChosenFont[],
  came: readonly ReadonlyMap<string, SoundCame>[],
  { database }: PreparePorts,
): Promise<void> {
  const rows = fonts.flatMap(({ edition }, index) =>
    (chosen[index]?.recipes ?? []).flatMap(({ sound, recipe }) => {
      const each = came[index]?.get(sound.path)
      if (recipe.steps.length > 0 && (each === undefined || each.state === 'failed')) return []
      const preparedSha256 =
        each === undefined || each.state === 'failed' ? sound.sha256 : each.inspection.sha256
      return [
        { editionId: edition.id, path: sound.path, originalSha256: sound.sha256, preparedSha256, recipe },
      ]
    }),
  )
  await database.inTransaction(async ({ preparation, records }) => {
    await records.keepBoardText(board.hash, board.id, boardText)
    await preparation.keepPreparedSounds(board.hash, rows)
  })
}

/** Hums as they are now, measured again. */
async function humsAfter(
  order: CardOrder,
  speaker: SpeakerInUse,
  tools: PreparingTools,
  ports: PreparePorts,
  control: RunControl,
): Promise<readonly (number | null)[]> {
  const { drafts, answers } = await look(order, speaker, [], tools, ports, control)
  return drafts.map((draft, index) => humLevelOf(draft, answers[index]?.answers ?? []))
}

async function speakerOf(
  request: Request,
  { build, editions }: CardOrder,
  ports: PreparePorts,
  control: RunControl,
): Promise<SpeakerInUse> {
  const told = request.speakerLowLimitHz
  const lowLimitHz = told === undefined ? await speakerLimitOf(build, ports.database.records) : told
  return heardThrough(lowLimitHz, editions, ports, control)
}

async function heardThrough(
  lowLimitHz: number | null,
  editions: readonly Edition[],
  { speakerLevels }: PreparePorts,
  control: RunControl,
): Promise<SpeakerInUse> {
  return { lowLimitHz, levelOf: await speakerLevels.hear(editions, lowLimitHz, control) }
}
