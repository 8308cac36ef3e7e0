import { AppError } from '../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { RunControl } from '../ports/progress.ts'
import { keepCardBytes, sourcePathsOf } from './card-bytes.ts'
import type { CardPorts } from './card-ports.ts'
import { withDamageInWords } from './damaged-copy.ts'
import { gateFonts } from './gate-fonts.ts'
import { layOutCard } from './lay-out-card.ts'
import { madeReportOf } from './made-report.ts'
import { preparedOrderOf } from './prepare/prepared-order.ts'
import { recipesOfCard } from './prepare/recipes-of-card.ts'
import { requirePreparedBytes } from './prepare/require-prepared-bytes.ts'
import { contentOf, isMadeMeanwhile, recordContent } from './recorded-content.ts'
import { verifyAgainst, verifyReportOf, type Verified } from './verify-image.ts'
import { whileOriginalsStay } from './while-originals-stay.ts'

/**
 * Makes a card image: gate, plan, keep the originals, write, read back, record, and only then give
 * the image its name. What ends the work early leaves no image and no record of one.
 *
 * @param request its `imagePath` is absolute
 * @throws AppError `make/not-ready`, `card/too-full`, `make/not-verified`, `make/prepared-gone`, those of `cardOrderOf`,
 *   `planCard`, `keepCardBytes` and `CardImages`; Cancelled
 */
export async function makeContent(
  request: RequestOf<'make'>,
  ports: CardPorts,
  control: RunControl,
): Promise<Omit<ResponseOf<'make'>, 'cautions'>> {
  return whileOriginalsStay('making a card', ports.locks, control, async () => {
    try {
      return await makeOnce(request, ports, control)
    } catch (error) {
      if (!isMadeMeanwhile(error)) throw error
      // Laid out once more, it takes the date of the one that was first.
      return makeOnce(request, ports, control)
    }
  })
}

async function makeOnce(
  request: RequestOf<'make'>,
  ports: CardPorts,
  control: RunControl,
): Promise<Omit<ResponseOf<'make'>, 'cautions'>> {
  const order = await preparedOrderOf(request, ports)
  const accepted = await gateFonts(order, request.accept ?? [], ports)
  const cardBytes = request.cardBytes ?? null
  const laidOut = await layOutCard(order, cardBytes, ports)
  const replace = request.replace ?? false
  await ports.images.requireTarget(request.imagePath, replace, laidOut.size.usedBytes)
  const documents = await ports.openDocuments()
  await documents.requireValid(laidOut.record)
  const recipes = await recipesOfCard(order, laidOut.plan.files, ports.database)
  await requirePreparedBytes(recipes, laidOut.plan.files, ports.store)
  const kept = await keepCardBytes(order, laidOut, ports, control)
  const sourcePaths = await sourcePathsOf(laidOut.plan.files, ports)

  const inWords = {
    files: laidOut.plan.files,
    fonts: laidOut.contents.fonts.map(({ folder, edition }) => ({ folder, fontName: edition.font.name })),
  }
  const image = await withDamageInWords(inWords, ports.store, () =>
    ports.images.write({ plan: laidOut.plan, stamp: laidOut.stamp, sourcePaths }, request.imagePath, control),
  )
  try {
    const content = contentOf(order, laidOut, image.imageHash, accepted, recipes)
    const verified = await verifyAgainst(content, image.temporaryPath, 'image', ports, control)
    if (!verified.isVerified) throw notVerified(request.imagePath, verified)
    await recordContent(content, order, laidOut, ports)
    await image.publish(replace)
    return {
      ...madeReportOf(content, order, laidOut, cardBytes, kept),
      imagePath: request.imagePath,
      imageBytes: content.geometry.imageBytes,
      imageHash: content.imageHash,
      verify: verifyReportOf(request.imagePath, content.fingerprint, verified),
      verified: verified.isVerified,
    }
  } finally {
    await image.discard()
  }
}

function notVerified(imagePath: string, { missing, changed, added, faults }: Verified): AppError {
  const first = faults[0] ?? missing[0] ?? changed[0] ?? added[0] ?? ''
  return new AppError({
    code: 'make/not-verified',
    what: `The image was written and does not read back as planned (${first}); it was removed.`,
    where: imagePath,
    mend: 'Check the disk, then make it again on another one.',
    kind: 'machine',
  })
}
