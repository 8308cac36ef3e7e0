import type { z } from 'zod'

const KINDS: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list, as in [1, 2]',
  null: 'null',
}

/** How zod begins the sentences that are its own, and not ours. */
const OF_ZOD = /^(Too (small|big)|Invalid (input|option|number|string|key|element)|Unrecognized key)/

/**
 * What does not fit in a value, to stand behind its name: `must be a number`. Null where the shape says
 * it in words of its own.
 */
export function issuePredicate(issue: z.core.$ZodIssue): string | null {
  if (!OF_ZOD.test(issue.message)) return null
  switch (issue.code) {
    case 'invalid_type':
      return /^(object|record)$/.test(issue.expected)
        ? 'must have keys of its own below it'
        : `must be ${KINDS[issue.expected] ?? issue.expected}`
    case 'too_small':
      if (issue.origin === 'string' || issue.origin === 'array')
        return Number(issue.minimum) === 1
          ? 'must not be empty'
          : `must have at least ${issue.minimum} ${issue.origin === 'string' ? 'characters' : 'entries'}`
      return `must be ${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}`
    case 'too_big':
      if (issue.origin === 'string' || issue.origin === 'array')
        return `must have at most ${issue.maximum} ${issue.origin === 'string' ? 'characters' : 'entries'}`
      return `must be ${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}`
    case 'not_multiple_of':
      return `must be a multiple of ${issue.divisor}`
    case 'invalid_value':
      return `must be ${issue.values.length === 1 ? '' : 'one of '}${issue.values.map(String).join(', ')}`
    case 'unrecognized_keys':
      return `has what is not known here: ${issue.keys.join(', ')}`
    case 'invalid_union':
      return 'is none of what can stand here'
    default:
      return null
  }
}

/** The same as a sentence. */
export function issueSentence(issue: z.core.$ZodIssue | undefined): string {
  if (issue === undefined) return 'It does not fit.'
  const predicate = issuePredicate(issue)
  return predicate === null ? `${issue.message}.` : `It ${predicate}.`
}
