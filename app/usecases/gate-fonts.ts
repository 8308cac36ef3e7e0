import { AppError } from '../errors/app-error.ts'
import type { Finding } from '../model/finding.ts'
import type { CardOrder } from './card-order.ts'
import type { CardPorts } from './card-ports.ts'

/** A finding that the user takes as it is, by its rule and, where told, the sound's path. */
export interface AcceptedFinding {
  readonly rule: string
  readonly path: string | null
  readonly reason: string
}

/** Most fonts and findings that one message names. */
const NAMED_FONTS = 6
const NAMED_RULES = 4

/**
 * Lets a card through whose fonts are all ready for the board, or whose errors were each accepted by
 * name with a reason.
 *
 * @returns those acceptances that were needed
 * @throws AppError `make/not-ready` with the list of what to mend
 */
export async function gateFonts(
  order: CardOrder,
  accepted: readonly AcceptedFinding[],
  ports: Pick<CardPorts, 'judgeAll' | 'judgeCard'>,
): Promise<readonly AcceptedFinding[]> {
  const used = new Set<AcceptedFinding>()
  const isAccepted = (finding: Finding): boolean => {
    const by = accepted.find(
      ({ rule, path }) => rule === finding.rule && (path === null || path === finding.path),
    )
    if (by !== undefined) used.add(by)
    return by !== undefined
  }
  const standing = (findings: readonly Finding[]): readonly Finding[] =>
    findings.filter((finding) => finding.severity === 'error' && !isAccepted(finding))

  const waiting: string[] = []
  const judged = await ports.judgeAll(order.editions, order.board, order.build)
  for (const [index, edition] of order.editions.entries()) {
    const errors = standing(judged[index]?.findings ?? [])
    if (judged[index]?.verdict.word === 'unrecognised')
      waiting.push(`"${edition.font.name}" (its names tell no roles)`)
    else if (errors.length > 0) waiting.push(`"${edition.font.name}" (${rulesOf(errors)})`)
  }
  const cardErrors = standing(await ports.judgeCard(order.editions, order.board, order.build))
  if (cardErrors.length > 0) waiting.push(`the card as a whole (${rulesOf(cardErrors)})`)
  if (waiting.length > 0) throw notReady(order, waiting)
  return [...used]
}

function rulesOf(findings: readonly Finding[]): string {
  const rules = [...new Set(findings.map(({ rule }) => rule))]
  const told = rules.map((rule) => {
    const own = findings.filter((finding) => finding.rule === rule)
    if (own.length === 1) return rule
    // A role that is missing is missing in no sound.
    return own.some(({ path }) => path === null)
      ? `${rule} ${own.length} times`
      : `${rule} in ${own.length} sounds`
  })
  return listed(told, NAMED_RULES)
}

function listed(items: readonly string[], most: number): string {
  const more = items.length - most
  return more > 0 ? `${items.slice(0, most).join(', ')} and ${more} more` : items.join(', ')
}

function notReady(order: CardOrder, waiting: readonly string[]): AppError {
  return new AppError({
    code: 'make/not-ready',
    what: `The board "${order.board.title}" would not play this card as it is: ${listed(waiting, NAMED_FONTS)}.`,
    where: '',
    mend: 'Mend these (`check` tells how; --prepare does what can be prepared), leave the fonts out, or accept a finding by name with a reason.',
    kind: 'unmet',
  })
}
