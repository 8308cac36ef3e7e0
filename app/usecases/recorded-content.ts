import { AppError } from '../errors/app-error.ts'
import type { Content, ContentFile, MadeByRecipe } from '../model/content.ts'
import { buildIdsOf } from './builds-of-content.ts'
import type { CardOrder } from './card-order.ts'
import type { CardPorts } from './card-ports.ts'
import type { AcceptedFinding } from './gate-fonts.ts'
import type { LaidOutCard } from './lay-out-card.ts'

/** The record of a card that was laid out. @param imageHash of the image that it is or would be */
export function contentOf(
  order: CardOrder,
  { plan, fingerprint, stamp, contents, toolVersion, known }: LaidOutCard,
  imageHash: string,
  acceptedFindings: readonly AcceptedFinding[],
  recipes: readonly MadeByRecipe[],
): Content {
  const former = formerDocuments(plan.files, known)
  const config = order.build?.config ?? null
  const fonts = new Set(order.editions.map(({ id }) => id))
  const singleSounds = (order.build?.singleSounds ?? []).filter(({ editionId }) => fonts.has(editionId))
  const lenders = lendersOf(order)
  const ruleChanges = withNew(known?.ruleChanges ?? [], order.build?.ruleChanges ?? [])
  const madeFor = withNew(
    known === undefined ? [] : buildIdsOf(known),
    order.build === null ? [] : [order.build.id],
  )
  const [buildId = null, ...furtherBuildIds] = madeFor
  return {
    fingerprint,
    createdAt: stamp.date,
    boardId: order.board.id,
    boardHash: order.board.hash,
    buildId,
    ...(furtherBuildIds.length === 0 ? {} : { furtherBuildIds }),
    geometry: plan.geometry,
    fonts: contents.fonts.map(({ slot, folder, edition, files }) => ({
      slot,
      folder,
      editionId: edition.id,
      fontId: edition.font.id,
      fontName: edition.font.name,
      version: edition.version,
      creatorName: edition.font.creatorName,
      sizeBytes: files.reduce((sum, file) => sum + file.sizeBytes, 0),
    })),
    files: plan.files,
    imageHash,
    toolVersion,
    ...(former.length === 0 ? {} : { formerDocuments: former }),
    ...(config === null ? {} : { config }),
    ...(singleSounds.length === 0 ? {} : { singleSounds }),
    ...(lenders.length === 0 ? {} : { lenders }),
    ...(recipes.length === 0 ? {} : { recipes }),
    acceptedFindings: withNew(known?.acceptedFindings ?? [], acceptedFindings),
    ...(ruleChanges.length === 0 ? {} : { ruleChanges }),
  }
}

/** Fonts that lend single sounds, each once. */
function lendersOf({ editions }: CardOrder): NonNullable<Content['lenders']> {
  const found = new Map(
    editions.flatMap(({ sounds }) =>
      sounds.flatMap(({ source }) => (source === undefined ? [] : [[source.editionId, source] as const])),
    ),
  )
  return [...found.values()].map(({ editionId, fontId, fontName, version }) => {
    return { editionId, fontId, fontName, version }
  })
}

/** What was already told of a content, and what is told anew: no reason that once stood there is lost. */
function withNew<T>(before: readonly T[], now: readonly T[]): readonly T[] {
  const told = new Set(before.map((each) => JSON.stringify(each)))
  return [...before, ...now.filter((each) => !told.has(JSON.stringify(each)))]
}

type FormerDocument = NonNullable<Content['formerDocuments']>[number]

/** Documents of an equal content that are written differently now, and those before them. */
function formerDocuments(
  files: readonly ContentFile[],
  known: Content | undefined,
): readonly FormerDocument[] {
  if (known === undefined) return []
  const now = new Set(files.map((file) => `${file.path} ${file.sha256}`))
  const last = known.files
    .filter(({ origin }) => origin.kind === 'credits' || origin.kind === 'licences')
    .map(({ path, sha256 }) => ({ path, sha256 }))
  const all = [...(known.formerDocuments ?? []), ...last]
  return all.filter(
    (one, index) =>
      !now.has(`${one.path} ${one.sha256}`) &&
      all.findIndex((other) => other.path === one.path && other.sha256 === one.sha256) === index,
  )
}

/**
 * Records what was made and read back; of an equal content, what is told anew.
 * @throws AppError `content/made-meanwhile` where another process recorded an equal content since this one
 *   was laid out: it has another date, and so had another image
 */
export async function recordContent(
  content: Content,
  order: CardOrder,
  { known }: LaidOutCard,
  ports: Pick<CardPorts, 'database'>,
): Promise<void> {
  await ports.database.inTransaction(async ({ records }) => {
    const now = await records.findContent(content.fingerprint)
    const isAsKnown = now?.createdAt === known?.createdAt && now?.imageHash === known?.imageHash
    if (now !== undefined && !isAsKnown && now.imageHash !== content.imageHash) throw madeMeanwhile(content)
    await records.keepBoardText(order.board.hash, order.board.id, order.boardText)
    if (known === undefined) await records.addContent(content)
    else if (isToldAnew(content, known)) await records.replaceContent(content)
  })
}

const MADE_MEANWHILE = 'content/made-meanwhile'

export function isMadeMeanwhile(error: unknown): boolean {
  return error instanceof AppError && error.code === MADE_MEANWHILE
}

function madeMeanwhile({ fingerprint }: Content): AppError {
  return new AppError({
    code: MADE_MEANWHILE,
    what: 'Another Cardwright made the same card at this moment; the date on it is that of the first.',
    where: fingerprint,
    mend: 'Make it again: the two are the same then.',
    kind: 'machine',
  })
}

/** Whether the record of an equal content must say more, or tell of other documents, than it does. */
function isToldAnew(content: Content, known: Content): boolean {
  return (
    known.imageHash !== content.imageHash ||
    buildIdsOf(known).length !== buildIdsOf(content).length ||
    known.acceptedFindings.length !== content.acceptedFindings.length ||
    (known.ruleChanges ?? []).length !== (content.ruleChanges ?? []).length
  )
}
