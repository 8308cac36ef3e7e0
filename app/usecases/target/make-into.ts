import { plannedImageHash } from '../../cards/planned-image-hash.ts'
import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import type { RunControl } from '../../ports/progress.ts'
import { keepCardBytes } from '../card-bytes.ts'
import { gateFonts } from '../gate-fonts.ts'
import { layOutCard } from '../lay-out-card.ts'
import { madeReportOf } from '../made-report.ts'
import { preparedOrderOf } from '../prepare/prepared-order.ts'
import { recipesOfCard } from '../prepare/recipes-of-card.ts'
import { requirePreparedBytes } from '../prepare/require-prepared-bytes.ts'
import { contentOf, isMadeMeanwhile, recordContent } from '../recorded-content.ts'
import { verifyReportOf } from '../verify-image.ts'
import { whileOriginalsStay } from '../while-originals-stay.ts'
import type { TargetPorts } from './target-ports.ts'
import { holdTarget, writeToTarget } from './write-to-target.ts'

/**
 * Makes a card file by file, in a mounted card or a folder: gate, plan, refuse the target, keep the
 * originals, write, read back, and only then record. The content is the same that an image of it has.
 *
 * @param request its `into` is absolute
 * @throws AppError `make/not-ready`, `card/too-full`, `make/prepared-gone`; those of `holdTarget` and `writeToTarget`, of
 *   `cardOrderOf`, `planCard` and `keepCardBytes`; Cancelled
 */
export async function makeInto(
  request: RequestOf<'make:into'>,
  ports: TargetPorts,
  control: RunControl,
): Promise<Omit<ResponseOf<'make:into'>, 'cautions'>> {
  return whileOriginalsStay('making a card', ports.locks, control, async () => {
    try {
      return await makeHeld(request, ports, control)
    } catch (error) {
      if (!isMadeMeanwhile(error)) throw error
      // Laid out once more, it takes the date of the one that was first: only its documents are written anew.
      return makeHeld(request, ports, control)
    }
  })
}

async function makeHeld(
  request: RequestOf<'make:into'>,
  ports: TargetPorts,
  control: RunControl,
): Promise<Omit<ResponseOf<'make:into'>, 'cautions'>> {
  const order = await preparedOrderOf(request, ports)
  const accepted = await gateFonts(order, request.accept ?? [], ports)
  const cardBytes = request.cardBytes ?? null
  const laidOut = await layOutCard(order, cardBytes, ports)
  const { plan, stamp } = laidOut
  const target = await holdTarget(request.into, plan.files, order.board, ports)
  try {
    const documents = await ports.openDocuments()
    await documents.requireValid(laidOut.record)
    const recipes = await recipesOfCard(order, plan.files, ports.database)
    await requirePreparedBytes(recipes, plan.files, ports.store)
    const kept = await keepCardBytes(order, laidOut, ports, control)
    const imageHash = plannedImageHash(plan, stamp, ports.newHasher)
    const content = contentOf(order, laidOut, imageHash, accepted, recipes)
    const options = {
      replace: request.replace ?? false,
      countsByEntry: order.board.fonts.order === 'entry',
    }
    const { written, verified } = await writeToTarget(content, target, options, ports, control)
    await recordContent(content, order, laidOut, ports)
    return {
      ...madeReportOf(content, order, laidOut, cardBytes, kept),
      written,
      verify: verifyReportOf(written.into, content.fingerprint, verified),
      verified: verified.isVerified,
    }
  } finally {
    await target.release()
  }
}
