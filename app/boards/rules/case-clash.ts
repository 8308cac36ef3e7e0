import { shown } from '../in-words.ts'
import { clashRule, renameMend } from './names-of.ts'

/** FAT tells no small letter from a capital one. Source: Microsoft FAT specification 1.03, on name matching. */
export const caseClash = clashRule(
  'case-clash',
  (path) => path.toUpperCase(),
  (_path, other, look) => ({
    message: `It differs from "${shown(other)}" by capital letters only; a card can hold one of the two.`,
    why: 'One of the two files is lost when they are copied to a card.',
    ...renameMend(look),
    measured: other,
    limit: null,
  }),
)
