import { shown } from '../in-words.ts'
import { clashRule, renameMend } from './names-of.ts'

/** Accents can be written in one character or two. Source: UAX #15, normalisation forms C and D. */
export const normalFormClash = clashRule(
  'normal-form-clash',
  (path) => path.normalize('NFC'),
  (_path, other, look) => ({
    message: `It looks the same as "${shown(other)}": an accent is written in two different ways.`,
    why: 'Some computers take the two for one file, and one of them is lost.',
    ...renameMend(look),
    measured: other,
    limit: null,
  }),
)
