import { isFingerprint } from '../cards/fingerprint.ts'
import { AppError } from '../errors/app-error.ts'
import type { Content } from '../model/content.ts'
import type { RecordsReader } from '../ports/bench-records.ts'
import { buildIdsOf } from './builds-of-content.ts'

/**
 * The content that a user's words mean: its fingerprint in any case, or the code of a build, which
 * means the newest made for it.
 *
 * @throws AppError `verify/unknown-content`
 */
export async function namedContent(words: string, records: RecordsReader): Promise<Content> {
  const fingerprint = words.trim().toUpperCase()
  const content = isFingerprint(fingerprint) ? await records.findContent(fingerprint) : undefined
  if (content !== undefined) return content
  const build = await records.findBuildByCode(words)
  // The newest comes first: what the build was last given.
  const made =
    build && (await records.listContents()).find((content) => buildIdsOf(content).includes(build.id))
  if (made !== undefined) return made
  throw unknownContent(words, '')
}

export function unknownContent(named: string, where: string): AppError {
  return new AppError({
    code: 'verify/unknown-content',
    what: `This workshop has no record of the content ${named}.`,
    where,
    mend: '`cards list` shows all contents; open the workshop that made it with --workshop.',
  })
}
