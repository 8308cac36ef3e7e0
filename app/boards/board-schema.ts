import { z } from 'zod'
import { KNOWLEDGE } from '../model/board.ts'
import { WEIGHTS } from '../model/finding.ts'
import { ROLES } from '../model/role.ts'
import { folderTemplateFault } from './folder-name.ts'
import { LIMIT_PATHS } from './limits.ts'
import { RULE_IDS } from './rules/severities.ts'

/** Source: Microsoft, "Naming Files, Paths, and Namespaces", reserved names. */
const DEVICE_NAME = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/

/** Ids of boards and schemes: what can stand in a command, a file name and a fingerprint's record. */
export const boardId = z
  .string()
  .max(60)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'An id has small letters, digits and single hyphens')
  .refine((id) => !DEVICE_NAME.test(id), 'Windows keeps this word for a device, so that no file can have it')

const count = z.int().min(1).max(1_000_000)
const bytes = z.int().min(1).max(Number.MAX_SAFE_INTEGER)
const fileName = z
  .string()
  .min(1)
  .max(255)
  .regex(/^[^\u0000-\u001f"*/:<>?\\|]+$/, 'A file name has none of / \\ : * ? " < > |')

/** A regular expression that compiles; `forOne` must match single characters, so it is tried on some. */
const pattern = z
  .string()
  .min(1)
  .max(500)
  .superRefine((source, context) => {
    try {
      new RegExp(source, 'u')
    } catch {
      context.addIssue({ code: 'custom', message: `"${source}" is no regular expression` })
    }
  })

const band = z
  .strictObject({ lowestLufs: z.number().min(-70).max(0), highestLufs: z.number().min(-70).max(0) })
  .refine((value) => value.lowestLufs <= value.highestLufs, 'The lowest level is above the highest')

/** What may be left out is not known; what is null is known to be no limit. */
const open = <T extends z.ZodType>(schema: T) => schema.nullable().optional()

const audio = z.strictObject({
  containers: open(
    z
      .array(z.enum(['riff', 'rifx', 'rf64', 'bw64', 'other']))
      .min(1)
      .readonly(),
  ),
  codings: open(
    z
      .array(z.enum(['pcm', 'float', 'alaw', 'mulaw', 'adpcm', 'other']))
      .min(1)
      .readonly(),
  ),
  sampleRatesHz: open(z.array(z.int().min(1000).max(768_000)).min(1).readonly()),
  bitDepths: open(z.array(z.int().min(1).max(64)).min(1).readonly()),
  channels: open(z.array(z.int().min(1).max(64)).min(1).readonly()),
  header: open(z.enum(['plain', 'any'])).describe('plain: nothing but the format stands before the samples.'),
  longestSeconds: open(z.number().positive()),
  largestBytes: open(bytes),
  oneRateInFont: open(z.boolean()),
})

const fonts = z.strictObject({
  mostFonts: open(count),
  folderTemplate: z
    .string()
    .min(1)
    .max(120)
    .superRefine((template, context) => {
      const fault = folderTemplateFault(template)
      if (fault !== null) context.addIssue({ code: 'custom', message: fault })
    })
    .optional()
    .describe('Folder of a font, with {slot} or {slot:02} and {name}.'),
  firstSlot: z.int().min(0).max(9999).optional(),
  order: z
    .enum(['name', 'entry'])
    .optional()
    .describe('Whether fonts are counted by name or by directory entry.'),
  rolesRequired: z.array(z.enum(ROLES)).readonly().optional(),
  mostSoundsByRole: z.partialRecord(z.enum(ROLES), count).optional(),
  numbering: open(z.strictObject({ start: z.int().min(0).max(9999), withoutGaps: z.boolean() })),
  pairsEqualLength: z.boolean().optional(),
  companions: z.enum(['font-folder', 'none']).optional(),
  cardWide: open(
    z.strictObject({ roles: z.array(z.enum(ROLES)).min(1).readonly(), folder: z.string().max(255) }),
  ).describe('Sounds that belong to the card, and the folder they lie in; an empty one is the root.'),
})

const names = z.strictObject({
  scheme: boardId.optional().describe('Id of the naming scheme.'),
  charset: pattern.optional().describe('A regular expression that every single character of a name matches.'),
  letterCase: z.enum(['lower', 'upper', 'any']).optional(),
  longestNameUnits: open(z.int().min(1).max(255)),
  longestPathUnits: open(z.int().min(1).max(32_767)),
  reserved: z.array(fileName).readonly().optional(),
})

const card = z.strictObject({
  fileSystems: z
    .array(z.enum(['fat16', 'fat32']))
    .min(1)
    .readonly()
    .optional(),
  largestCardBytes: open(bytes),
  clusterBytes: z
    .union([512, 1024, 2048, 4096, 8192, 16_384, 32_768].map((size) => z.literal(size)))
    .optional()
    .describe('Clusters of 64 KiB are read, never written.'),
  partitionTable: z.literal('mbr').optional(),
  alignmentBytes: z.int().min(512).max(67_108_864).multipleOf(512).optional(),
  creditsName: fileName.optional(),
  licencesName: fileName.optional(),
  extraFilesInRoot: z.boolean().optional(),
  mostSectorsToOpen: open(count),
})

const config = z.strictObject({
  file: fileName,
  required: z.boolean(),
  use: z.enum(['read-from-card', 'copy-only']),
  fontPattern: pattern
    .nullable()
    .describe('Regular expression over one line; its first group is the name of a font folder.'),
})

const levels = z.strictObject({
  hum: open(band),
  effects: open(band),
  music: open(band),
  ceilingDbtp: open(z.number().min(-30).max(6)),
  mostLimitingDb: open(z.number().min(0).max(24)),
  spreadLu: open(z.number().positive().max(40)),
})

/** A board file, as a person writes it. Of `extends`, every key that is not given here is taken over. */
export const boardFile = z
  .strictObject({
    board: z.strictObject({
      id: boardId,
      title: z
        .string()
        .trim()
        .min(1)
        .max(120)
        .regex(/^[^\u0000-\u001f\u007f-\u009f]*$/, 'A title is one line of plain characters'),
      notes: z.string().max(8000).optional(),
    }),
    extends: boardId.optional().describe('Id of the board whose limits hold where this file sets none.'),
    audio: audio.optional(),
    fonts: fonts.optional(),
    names: names.optional(),
    card: card.optional(),
    config: config.nullable().optional().describe('null: the board reads no config file.'),
    levels: levels.optional(),
    known: z
      .partialRecord(z.enum(LIMIT_PATHS), z.enum(KNOWLEDGE))
      .optional()
      .describe('How a limit is known; one that is given and not named here is stated.'),
    rules: z
      .partialRecord(
        z.enum(RULE_IDS),
        z.strictObject({
          severity: z.enum(WEIGHTS),
          reason: z.string().trim().min(1).max(500),
        }),
      )
      .optional()
      .describe('Rules switched off or weighed anew, each with its reason.'),
  })
  .describe('What one sound board accepts.')

export type BoardFile = z.output<typeof boardFile>

/** The schema of board files as JSON Schema 2020-12, for editors. */
export function boardJsonSchema(): object {
  const { $schema, ...schema } = z.toJSONSchema(boardFile, { target: 'draft-2020-12', io: 'input' })
  return { $schema, $id: 'board.schema.json', title: 'Board file', ...schema }
}
