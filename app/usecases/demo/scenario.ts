import { parse } from 'yaml'
import { z } from 'zod'
import { CONVERSION_ANSWERS, LICENCE_KINDS } from '../../model/records.ts'
import { EFFECT_KINDS } from './synthesise-effect.ts'
import { TUNE_KINDS } from './synthesise-tune.ts'

const LOOP_KINDS = ['hum', 'swing-low', 'swing-high', 'lockup'] as const
export type LoopKind = (typeof LOOP_KINDS)[number]

const demoSound = z.strictObject({
  is: z.enum([...LOOP_KINDS, ...EFFECT_KINDS, ...TUNE_KINDS]),
  seconds: z.number().positive().max(120),
})

const demoFont = z.strictObject({
  name: z.string(),
  version: z.string(),
  creator: z.string(),
  /** Below the scan folder: a folder of files, or a zip archive that holds one. */
  place: z.union([
    z.strictObject({ folder: z.string() }),
    z.strictObject({ archive: z.string(), inner: z.string() }),
  ]),
  voice: z.strictObject({
    seed: z.int(),
    baseHz: z.number().min(40).max(400),
    harmonics: z.array(z.number().min(0).max(1)).min(1).max(24),
    wobbleHz: z.number().positive(),
    grit: z.number().min(0).max(1),
  }),
  /** Level of the hum as its root mean square, a fraction of full scale; effects keep their distance to it. */
  humRms: z.number().positive().max(0.5),
  sounds: z.record(z.string(), demoSound),
  texts: z.record(z.string(), z.string()),
})

/** What is done to a sound or a font so that a rule has something to find. */
const plant = z.strictObject({
  sampleRateHz: z.int().optional(),
  channels: z.literal(2).optional(),
  bitDepth: z.literal(24).optional(),
  chunksBeforeData: z.array(z.strictObject({ id: z.string().length(4), text: z.string() })).optional(),
  /** Times the level it would have; beyond full scale it is cut off. */
  gain: z.number().positive().optional(),
  /** The end of a loop is cut where its wave is far from where it began. */
  cutSeam: z.literal(true).optional(),
  /** The file is not written. */
  leftOut: z.literal(true).optional(),
  /** A file of an operating system, one byte a character. */
  litter: z.string().optional(),
  /** The font's licence is not recorded. */
  noLicence: z.literal(true).optional(),
})

const demoFault = z.strictObject({
  font: z.string(),
  /** Inside the font; null where the whole font is meant. */
  path: z.string().nullable(),
  plant,
  /** Id of the rule that must find it. */
  rule: z.string(),
})

const scenarioShape = z.strictObject({
  boardId: z.string(),
  scanFolder: z.string(),
  firstCard: z.strictObject({ build: z.string(), cardBytes: z.int().positive(), image: z.string() }),
  creators: z.array(z.strictObject({ name: z.string(), contact: z.string(), note: z.string() })),
  fonts: z.array(demoFont),
  licences: z.array(
    z.strictObject({
      font: z.string(),
      holder: z.string(),
      kind: z.enum(LICENCE_KINDS),
      grantedOn: z.string(),
      orderReference: z.string(),
      terms: z.string(),
      conversionAllowed: z.enum(CONVERSION_ANSWERS).optional(),
      note: z.string(),
    }),
  ),
  builds: z.array(
    z.strictObject({
      code: z.string(),
      clientLabel: z.string(),
      speaker: z.string(),
      speakerLowLimitHz: z.number().nullable(),
      fonts: z.array(z.string()),
      note: z.string(),
    }),
  ),
  faults: z.array(demoFault),
})

export type DemoScenario = z.output<typeof scenarioShape>
export type DemoFont = z.output<typeof demoFont>
export type DemoSound = z.output<typeof demoSound>
export type Plant = z.output<typeof plant>

/**
 * Reads the text of `resources/demo/scenario.yaml`.
 * Errors: ZodError where it is not a scenario: our own file, so a bug and no user's fault.
 */
export function readScenario(text: string): DemoScenario {
  return scenarioShape.parse(parse(text))
}
