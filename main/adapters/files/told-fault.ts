import { AppError } from '../../../app/errors/app-error.ts'

export interface FaultInWords {
  readonly code: string
  readonly what: string
  readonly mend: string
}

/**
 * Turns what the operating system said about a file into a report.
 *
 * @param words by the system's own code, such as `ENOSPC`
 * @param otherwise for a code without words
 * @returns what was thrown as it is, where it is a report already or nothing that the system said
 */
export function toldFault(
  thrown: unknown,
  where: string,
  words: Readonly<Record<string, FaultInWords>>,
  otherwise: (code: string) => FaultInWords,
): unknown {
  if (thrown instanceof AppError) return thrown
  const code = (thrown as { code?: unknown } | null)?.code
  if (typeof code !== 'string') return thrown
  return new AppError({ ...(words[code] ?? otherwise(code)), where, kind: 'machine' }, { cause: thrown })
}
