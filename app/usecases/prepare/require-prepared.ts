import type { ResponseOf } from '../../contract/calls.ts'
import { AppError } from '../../errors/app-error.ts'

/**
 * Refuses to go on to a card where a sound could not be prepared: the card would be another one than was
 * asked for, or be refused for what its fonts were as they came, and either way without saying why.
 * @throws AppError `make/not-prepared`
 */
export function requirePrepared({ fonts }: Pick<ResponseOf<'prepare'>, 'fonts'>): void {
  const failed = fonts.flatMap(({ font, sounds }) =>
    sounds.flatMap(({ path, problem }) => (problem === null ? [] : [{ font, path, problem }])),
  )
  const [first] = failed
  if (first === undefined) return
  const others = failed.length === 1 ? '' : ` (and ${failed.length - 1} more)`
  throw new AppError({
    code: 'make/not-prepared',
    what: `This sound${others} could not be prepared, and no card was made: ${first.problem.message}`,
    where: `font "${first.font}", ${first.path}`,
    mend: 'Mend that and make it again, which goes on where this stopped.',
    kind: 'machine',
  })
}
