import { z } from 'zod'
import { LAYERS, PARTS, ROLES } from '../model/role.ts'

/** Letters of any script, marks, spaces and a few joints; no digits beside what is counted, no path or template signs. */
const word = z
  .string()
  .min(1)
  .max(40)
  .regex(/^[\p{L}\p{M}\p{N} _+&'.-]+$/u, "A word has letters, digits, spaces and _ + & ' . - only")

const words = z
  .union([word, z.array(word).min(1).max(12).readonly()])
  .describe('The word that is written, or a list: the first is written, all are read.')

const template = z
  .string()
  .min(1)
  .max(200)
  .describe('A name, with {role}, {part}, {layer} and {n} or {n:02} where they stand; folders end with /.')

/** A naming scheme as its file spells it. */
export const schemeFile = z.strictObject({
  scheme: z.strictObject({
    id: z
      .string()
      .max(60)
      .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'An id has small letters, digits and single hyphens'),
    title: z.string().min(1).max(120),
    notes: z.string().max(4000).optional(),
  }),
  firstUnnumbered: z
    .boolean()
    .optional()
    .describe('Whether the first sound of several carries no number: hum, hum-2, hum-3.'),
  words: z
    .strictObject({
      roles: z
        .partialRecord(z.enum(ROLES), words.nullable())
        .optional()
        .describe('Words for roles; a role left out is spelled by its own name, null cannot be spelled.'),
      parts: z.partialRecord(z.enum(PARTS), words).optional(),
      layers: z.partialRecord(z.enum(LAYERS), words).optional(),
    })
    .optional(),
  templates: z
    .array(
      z.union([
        template,
        z.strictObject({
          name: template,
          role: z.enum(ROLES).optional(),
          part: z.enum(PARTS).optional(),
          layer: z.enum(LAYERS).optional(),
        }),
      ]),
    )
    .min(1)
    .max(80)
    .readonly(),
})

export type SchemeFile = z.output<typeof schemeFile>
