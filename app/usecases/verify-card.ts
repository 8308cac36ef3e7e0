import { fingerprintInCredits } from '../cards/credits.ts'
import { isFingerprint } from '../cards/fingerprint.ts'
import { AppError } from '../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { CardIdentity } from '../model/card-reading.ts'
import type { Content } from '../model/content.ts'
import type { RunControl } from '../ports/progress.ts'
import type { CardPorts } from './card-ports.ts'
import { namedContent, unknownContent } from './named-content.ts'
import { verifyAgainst, verifyReportOf } from './verify-image.ts'

export type VerifyPorts = Pick<CardPorts, 'database' | 'reader' | 'newHasher' | 'getBoard'>

/**
 * Holds an image or folder against the record of its content: the one that is named, else the one
 * that its credits name, else the one of its label.
 *
 * @param request `target` is absolute; `against` is a fingerprint or the code of a build
 * @throws AppError `verify/no-card`, `verify/unknown-content`, `verify/not-found`, `verify/unreadable`;
 *   Cancelled
 */
export async function verifyCard(
  request: RequestOf<'verify'>,
  ports: VerifyPorts,
  control: RunControl,
): Promise<ResponseOf<'verify'>> {
  const { target, against } = request
  const identity = await ports.reader.identify(target)
  const content =
    against === undefined
      ? await contentNamedBy(identity, target, ports)
      : await namedContent(against, ports.database.records)
  const countsByEntry = await boardCountsByEntry(content, ports)
  const verified = await verifyAgainst(content, target, identity.kind, ports, control, countsByEntry)
  return verifyReportOf(target, content.fingerprint, verified)
}

/** Whether the board of a content plays in the order of the entries; so it is taken where nobody knows. */
export async function boardCountsByEntry(
  content: Content,
  ports: Pick<CardPorts, 'getBoard'>,
): Promise<boolean> {
  const inUse = await ports.getBoard(content.boardId).catch(() => null)
  return inUse === null || inUse.board.fonts.order === 'entry'
}

async function contentNamedBy(identity: CardIdentity, target: string, ports: VerifyPorts): Promise<Content> {
  const inCredits = identity.texts.flatMap(({ text }) => fingerprintInCredits(text) ?? [])
  const label = identity.label !== null && isFingerprint(identity.label) ? [identity.label] : []
  const named = [...new Set([...inCredits, ...label])]
  for (const fingerprint of named) {
    const content = await ports.database.records.findContent(fingerprint)
    if (content !== undefined) return content
  }
  if (named.length > 0) throw unknownContent(named.join(', '), target)
  throw new AppError({
    code: 'verify/no-card',
    what:
      identity.kind === 'folder'
        ? 'No credits in this folder name a content.'
        : 'This file is no card image, or nothing on it names a content.',
    where: target,
    mend: 'Name what it should hold with --against (a fingerprint or a build), or check the path.',
  })
}
