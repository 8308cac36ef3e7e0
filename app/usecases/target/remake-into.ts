import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import type { RunControl } from '../../ports/progress.ts'
import { namedContent } from '../named-content.ts'
import { bringBack } from '../remake-content.ts'
import { verifyReportOf } from '../verify-image.ts'
import type { TargetPorts } from './target-ports.ts'
import { holdTarget, writeToTarget } from './write-to-target.ts'

/**
 * Makes a recorded content again in a mounted card or a folder, file by file; nothing is judged, named
 * or decided anew.
 *
 * @param request its `into` is absolute
 * @throws AppError `verify/unknown-content`, `remake/bytes-gone`; those of `holdTarget` and
 *   `writeToTarget`; Cancelled
 */
export async function remakeInto(
  request: RequestOf<'contents:remake-into'>,
  ports: TargetPorts,
  control: RunControl,
): Promise<ResponseOf<'contents:remake-into'>> {
  const content = await namedContent(request.content, ports.database.records)
  // A board that is gone tells nothing of cards; then the volume is not judged.
  const board = (await ports.getBoard(content.boardId).catch(() => null))?.board ?? null
  const target = await holdTarget(request.into, content.files, board, ports)
  try {
    await bringBack(content, ports, control)
    const options = {
      replace: request.replace ?? false,
      countsByEntry: board === null || board.fonts.order === 'entry',
    }
    const { written, verified } = await writeToTarget(content, target, options, ports, control)
    return {
      fingerprint: content.fingerprint,
      written,
      verify: verifyReportOf(written.into, content.fingerprint, verified),
      verified: verified.isVerified,
    }
  } finally {
    await target.release()
  }
}
